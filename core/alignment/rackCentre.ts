import type { Measured } from '../measured.ts';
import { found, refused, tooUncertain, type Outcome, type Sides } from './outcome.ts';
import { propagated } from './propagated.ts';

/** With the steering wheel straight and pinned. */
export type RackReading =
  | {
      /** Rack housing to the inner joint of each tie rod, metre. */
      readonly by: 'rods';
      readonly rods: Sides<Measured>;
    }
  | {
      /**
       * Turn of the left wheel at its lock to the left, and of the right wheel at its lock to the right,
       * on turn plates zeroed straight ahead, rad.
       */
      readonly by: 'locks';
      readonly locks: Sides<Measured>;
      /** Steer per travel of the rack near the lock, rad per metre. */
      readonly perTravel: Measured;
      /** Ahead of the axle the rack moves left to steer left; behind it, right. */
      readonly rack: 'ahead' | 'behind';
    };

/** Beyond it nobody looks at one and the same rack. Common practice, no source. */
const MOST_OFFSET = 0.05;

/**
 * How far the rack stands off its centre with the steering straight, metre, positive to the left. A rack
 * displaced to the left has more of it out on the left; and less of its travel left to go that way, so
 * that the wheels reach unlike angles at the two stops.
 */
export const rackCentre = (reading: RackReading): Outcome<Measured> => {
  const { left, right } = reading.by === 'rods' ? reading.rods : reading.locks;
  if (!(left.value > 0 && right.value > 0))
    return refused(
      'A length or turn is not above zero.',
      'Type both as they are read, without a sign.',
    );
  if (reading.by === 'locks' && !(reading.perTravel.value > 0))
    return refused(
      'The steer per travel of the rack is not above zero.',
      'Measure it: move the rack by ten millimetres and read the turn plate.',
    );
  const offset =
    reading.by === 'rods'
      ? propagated([left, right], ([l = 0, r = 0]) => (l - r) / 2)
      : propagated([left, right, reading.perTravel], ([l = 0, r = 0, k = 0]) => {
          const towardsSteer = (r - l) / (2 * k);
          return reading.rack === 'ahead' ? towardsSteer : -towardsSteer;
        });
  if (!offset) return tooUncertain;
  if (Math.abs(offset.value) > MOST_OFFSET)
    return refused(
      'The two sides differ by more than a rack can be off its centre.',
      'Measure both again, from the same marks and in the same unit.',
    );
  return found(offset);
};
