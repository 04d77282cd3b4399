import type { PracticePort, PracticeStack, PracticeState } from '../../../core/bench/ports.ts';
import { createRandom } from './random.ts';

/**
 * What people put on the practice pads by hand: masses, at the middle or at an edge, and one pad on
 * another with both pressed by a jack.
 */
export interface MassesOnPads {
  readonly put: PracticePort['putMasses'];
  readonly press: PracticePort['pressStack'];
  /** Force that the pad of this number reads of it, newton. */
  force(index: number): number;
  state(): Pick<PracticeState, 'masses' | 'stack'>;
}

/**
 * Relative change of the reading for a metre off the centre: 3 parts in 10⁴ at 10 cm, well within the
 * limits of OIML R 76-1, 3.6.2, for a class III pad.
 */
const PER_METRE = 3e-3;
/** An upper pad's own weight on the lower one, kg; the invented pad weighs that. */
const PAD_MASS = 6.2;

const DIRECTION = {
  middle: [0, 0],
  front: [1, 0],
  rear: [-1, 0],
  left: [0, 1],
  right: [0, -1],
} as const;

export const createMassesOnPads = (
  serials: readonly string[],
  { gravity, seed }: { readonly gravity: () => number; readonly seed: number },
): MassesOnPads => {
  const random = createRandom(seed, 2);
  const offCentre = serials.map(() => ({
    ahead: random.between(-PER_METRE, PER_METRE),
    left: random.between(-PER_METRE, PER_METRE),
  }));
  const masses = new Float64Array(serials.length);
  const factors = new Float64Array(serials.length).fill(1);
  let stack: PracticeStack | null = null;
  const indexOf = (serial: string): number => serials.indexOf(serial);

  return {
    put: (serial, { mass, place, distance }) => {
      const index = indexOf(serial);
      const traits = offCentre[index];
      if (!traits || !(mass >= 0)) return;
      const [ahead, left] = DIRECTION[place];
      masses[index] = mass;
      factors[index] = 1 + distance * (ahead * traits.ahead + left * traits.left);
    },
    press: (next) => {
      const isKnown = next && indexOf(next.upper) >= 0 && indexOf(next.lower) >= 0;
      stack = isKnown && next.upper !== next.lower ? next : null;
    },
    force: (index) => {
      const own = (masses[index] as number) * gravity() * (factors[index] as number);
      if (!stack) return own;
      const serial = serials[index];
      if (serial === stack.upper) return own + stack.force;
      return serial === stack.lower ? own + stack.force + PAD_MASS * gravity() : own;
    },
    state: () => ({
      masses: Object.fromEntries(
        serials.flatMap((serial, index) => {
          const mass = masses[index] as number;
          return mass > 0 ? [[serial, mass] as const] : [];
        }),
      ),
      stack,
    }),
  };
};
