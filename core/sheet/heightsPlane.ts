import { bodyAttitude, type HeightPoint } from '../alignment/bodyAttitude.ts';
import { HEIGHT_DATUMS } from '../alignment/rideHeight.ts';
import type { Car } from './car.ts';
import { itemValue, type ValueSources } from './itemValue.ts';
import { standingOf } from './stale.ts';

/**
 * What is behind ride heights that do not lie in the plane of the body: a reading, or a twist. Null
 * where they do, where one is missing or stale, or where they were read from different things.
 */
export const heightsPlane = (car: Car, sources: ValueSources): string | null => {
  const points = (car.details?.heightPoints ?? []).map((point): HeightPoint | null => {
    const item = sources.items.get(`height.${point.id}`);
    const value = item && itemValue(item.id, sources);
    const entry = item && standingOf(sources.record, item).fresh.at(-1);
    const datum =
      entry?.is === 'reading' ? HEIGHT_DATUMS.find((each) => each === entry.datum) : undefined;
    if (value?.is !== 'measured' || value.stale || !datum) return null;
    const { u, dof } = value.scatter;
    // What one gauge does to all heights alike lifts the plane and bends it not.
    return { ...point, height: { value: value.value.value, u, dof }, datum };
  });
  const known = points.filter((point) => point !== null);
  if (known.length < points.length) return null;
  const outcome = bodyAttitude(known, car);
  return outcome.ok ? (outcome.result.notPlane?.words ?? null) : null;
};
