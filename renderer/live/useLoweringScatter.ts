import { useMemo } from 'react';
import { warpPattern } from '../../core/adjust/warp.ts';
import { layingScatter } from '../../core/compare/layingScatter.ts';
import {
  loweringCells,
  loweringScatter,
  type FourNumbers,
  type LoweringScatter,
} from '../../core/compare/repeatabilityLowering.ts';
import { inOrder } from '../../core/corners.ts';
import type { Car } from '../../core/sheet/car.ts';
import { newestStudy } from '../../core/sheet/loweringsKept.ts';
import { useCaptures } from './useCaptures.ts';
import { useKept } from './useKept.ts';

/** What lowering the unchanged car does, and what laying the patch again adds, from the newest study. */
export const useLoweringScatter = (
  car: Car,
): { readonly repeat: LoweringScatter | null; readonly laying: LoweringScatter | null } => {
  const lowerings = useKept('lowering');
  const captures = useCaptures(
    useMemo(() => lowerings?.map(({ captureId }) => captureId) ?? [], [lowerings]),
  );
  return useMemo(() => {
    const study = newestStudy(lowerings ?? [], (id) => captures.get(id) ?? null);
    const n = inOrder(warpPattern(car)) as unknown as FourNumbers;
    return { repeat: loweringScatter(loweringCells(study)), laying: layingScatter(study, n) };
  }, [lowerings, captures, car]);
};
