import type { BenchState, Frame } from '../contract/events.ts';
import { arePadsEmpty } from './cornerCheck.ts';

/**
 * The caution that belongs to the step the car is in. A raised car kills; numbers are not
 * permission: the series' rules, the officials' equipment, local safety rules and qualified people
 * decide.
 */
export interface Caution {
  readonly step: 'before lowering' | 'while it moves' | 'before reaching in';
  readonly title: string;
  readonly text: string;
}

const LOWERING: Caution = {
  step: 'before lowering',
  title: 'Before lowering',
  text: 'One person commands. Stands rated and on firm ground, air-jack collars in, lance under control. Chocks or end stops on every pad, one person at the brake, patch level. All clear called. Never roll the car on set-up wheels or slip plates.',
};

const MOVING: Caution = {
  step: 'while it moves',
  title: 'Hands off',
  text: 'Nobody reaches in and nobody touches car or jack until the bench says settled and the person lowering has called clear.',
};

const REACHING: Caution = {
  step: 'before reaching in',
  title: 'Before reaching in',
  text: 'Settled is not permission: wait until the person lowering has called clear and nobody else touches car or jack. Never under the floor of a car on jacks alone. Hot brakes and exhaust; ignition off.',
};

/** The caution of the step; null where no car can be near (no pads, nothing live). */
export const caution = (state: BenchState, frame: Frame | null): Caution | null => {
  if (state.source === null || !frame) return null;
  const practice = state.practice?.car;
  if (practice === 'lowering' || practice === 'raising') return MOVING;
  if (practice === 'raised' || arePadsEmpty(frame)) return LOWERING;
  if (frame.stillness === 'settled') return REACHING;
  return MOVING;
};
