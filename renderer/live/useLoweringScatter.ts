import { useMemo } from 'react';
import type { Car } from '../../core/sheet/car.ts';
import { studiedScatter, type StudiedScatter } from '../../core/sheet/loweringsKept.ts';
import { useCaptures } from './useCaptures.ts';
import { useKept } from './useKept.ts';

/** What lowering the unchanged car does, and what laying the patch again adds, from the newest study. */
export const useLoweringScatter = (car: Car): StudiedScatter => {
  const lowerings = useKept('lowering');
  const captures = useCaptures(
    useMemo(() => lowerings?.map(({ captureId }) => captureId) ?? [], [lowerings]),
  );
  return useMemo(
    () => studiedScatter(car, lowerings ?? [], (id) => captures.get(id) ?? null),
    [lowerings, captures, car],
  );
};
