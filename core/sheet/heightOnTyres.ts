import { refused, type Outcome } from '../alignment/outcome.ts';
import { rideHeightOnTyres } from '../alignment/rideHeightOnTyres.ts';
import { CORNERS, perCorner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import { kilogram, metre, metrePerSecond2 } from '../units.ts';
import type { Car } from './car.ts';
import type { Item } from './items.ts';
import { itemValue, type ValueSources } from './itemValue.ts';

/**
 * A ride height that was read on set-up wheels, as it will be on the tyres of the car at the loaded
 * radii that are stated there. Null where it was read on tyres, or the car has not both.
 */
export const heightOnTyres = (
  item: Item,
  sources: ValueSources,
  about: { readonly car: Car; readonly gravity: number },
): Outcome<Measured> | null => {
  const { car, gravity } = about;
  const { state } = sources.record;
  const { setUpWheels = null, tyres = null, heightPoints = [] } = car.details ?? {};
  const point = heightPoints.find(({ id }) => id === item.part);
  if (state.wheels !== 'set-up wheels' || !setUpWheels || !tyres || !point) return null;
  const height = itemValue(item.id, sources);
  if (height.is === 'missing') return null;
  const weights = CORNERS.flatMap((corner) => {
    const value = itemValue(`weight.${corner}`, sources);
    return value.is === 'measured' ? [value.value.value] : [];
  });
  const [lf, rf, lr, rr] = weights;
  if (lf === undefined || rf === undefined || lr === undefined || rr === undefined)
    return refused('the car is not weighed in this record.', 'Weigh it.');
  const mass = lf + rf + lr + rr;
  return rideHeightOnTyres({
    height: height.value,
    x: point.x,
    y: point.y,
    setUpWheels: perCorner((corner) =>
      measured(setUpWheels[corner].radius.value, setUpWheels[corner].radius.u, Infinity),
    ),
    tyres: perCorner((corner) =>
      measured(tyres[corner].loadedRadius.value, tyres[corner].loadedRadius.u, Infinity),
    ),
    standing: {
      car,
      mass: kilogram(mass),
      frontShare: (lf + rf) / mass,
      cgLeft: metre(((lf - rf) * car.trackFront + (lr - rr) * car.trackRear) / (2 * mass)),
      gravity: metrePerSecond2(gravity),
    },
    bars: state.barsFree === 'no' ? 'on' : 'off',
  });
};
