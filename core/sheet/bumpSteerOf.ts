import { bumpSteer, type ChangeWithTravel } from '../alignment/bumpSteer.ts';
import type { Outcome } from '../alignment/outcome.ts';
import type { Corner } from '../corners.ts';
import { measured } from '../measured.ts';
import { BUMP_HEIGHTS } from './itemKinds.ts';
import { itemValue, type ValueSources } from './itemValue.ts';

/** The body is held at its heights to half a millimetre; common practice, no source. */
const HEIGHT_U = 5e-4;

/**
 * Bump steer of a wheel from the toes of a record: at ride height and at the heights that were read.
 * Heights are of the body; where it is up, the wheel is in droop.
 */
export const bumpSteerOf = (corner: Corner, sources: ValueSources): Outcome<ChangeWithTravel> =>
  bumpSteer(
    [0, ...BUMP_HEIGHTS].flatMap((mm) => {
      const id =
        mm === 0 ? `toe.${corner}` : `bumpSteer.${corner}.${mm > 0 ? `+${mm}` : String(mm)}`;
      const value = itemValue(id, sources);
      return value.is === 'missing' || value.stale
        ? []
        : [
            {
              travel: measured(-mm / 1000, mm === 0 ? 0 : HEIGHT_U, Infinity),
              angle: value.value,
            },
          ];
    }),
  );
