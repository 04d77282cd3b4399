import type { BenchState, Frame } from '../contract/events.ts';
import { arePadsEmpty } from './cornerCheck.ts';

/**
 * The cautions, each for the step where it applies. A raised car kills; numbers are not permission:
 * the series' rules, the officials' equipment, local safety rules and qualified people decide.
 */
export const CAUTION_STEPS = [
  'before raising',
  'before lowering',
  'while it moves',
  'before reaching in',
  'before a spring is freed',
  'at a wheel',
  'at the fuel',
  'at the laser',
  'at the masses',
  'at the ballast',
  'before an axle is lifted',
] as const;

export type CautionStep = (typeof CAUTION_STEPS)[number];

export interface Caution {
  readonly step: CautionStep;
  readonly title: string;
  readonly text: string;
}

export const CAUTIONS: { readonly [S in CautionStep]: Caution } = {
  'before raising': {
    step: 'before raising',
    title: 'Before raising',
    text: 'One person commands. Nobody in, under or before the car; all clear called. A hybrid car is made safe by trained people first; ignition off. Lance under control, air-jack collars in as soon as it is up. Rated stands on firm ground before anyone comes near.',
  },
  'before lowering': {
    step: 'before lowering',
    title: 'Before lowering',
    text: 'One person commands. Stands rated and on firm ground, air-jack collars in, lance under control. Chocks or end stops on every pad, one person at the brake, patch level. Two people lift a wheel or a plate. All clear called. Never roll the car on set-up wheels or slip plates.',
  },
  'while it moves': {
    step: 'while it moves',
    title: 'Hands off',
    text: 'Nobody reaches in and nobody touches car or jack until the bench says settled and the person lowering has called clear.',
  },
  'before reaching in': {
    step: 'before reaching in',
    title: 'Before reaching in',
    text: 'Settled is not permission: wait until the person lowering has called clear and nobody else touches car or jack. Never under the floor of a car on jacks alone. Hot brakes and exhaust; ignition off.',
  },
  'before a spring is freed': {
    step: 'before a spring is freed',
    title: 'Before a spring is freed',
    text: 'Car on rated stands, never on jacks alone. The spring is unloaded before its seat or its damper is released; a gas damper pushes out by itself. Hot brakes and exhaust. Two people lift a wheel or a plate.',
  },
  'at a wheel': {
    step: 'at a wheel',
    title: 'Wheels and plates',
    text: 'Two people lift a wheel or a plate. Car on rated stands, never on jacks alone. Hot brakes.',
  },
  'at the fuel': {
    step: 'at the fuel',
    title: 'Fuel',
    text: 'Fuel and its vapour are kept from everything that sparks or is hot: ignition off, brakes and exhaust cold, nothing charging.',
  },
  'at the laser': {
    step: 'at the laser',
    title: 'Laser',
    text: 'Lasers are kept from eyes: nobody looks into the beam or its reflection, and it stands clear of the height of eyes.',
  },
  'at the masses': {
    step: 'at the masses',
    title: 'Masses',
    text: 'They crush feet and fingers: two people above 20 kg, gloves, nothing stacked that can slide.',
  },
  'at the ballast': {
    step: 'at the ballast',
    title: 'Ballast',
    text: 'Fixed as the rules say, and checked before the car moves: loose, it is a missile. Two people lift plates. Nobody under the floor of a car on jacks alone, and nobody reaches in before the person lowering has called clear.',
  },
  'before an axle is lifted': {
    step: 'before an axle is lifted',
    title: 'Before an axle is lifted',
    text: 'Nobody in the car, nobody before or behind it. Straps on, chocks at the axle that stays down until it is to roll, one person commands. Rated stands under the raised end before anyone comes near; never under a car on jacks alone. Fuel and fluids closed, ballast fixed as the rules say.',
  },
};

/** The caution of the step the car is in; null where no car can be near (no pads, nothing live). */
export const caution = (state: BenchState, frame: Frame | null): Caution | null => {
  if (state.source === null || !frame) return null;
  const practice = state.practice?.car;
  if (practice === 'lowering' || practice === 'raising') return CAUTIONS['while it moves'];
  if (practice === 'raised' || arePadsEmpty(frame)) return CAUTIONS['before lowering'];
  if (frame.stillness === 'settled') return CAUTIONS['before reaching in'];
  return CAUTIONS['while it moves'];
};
