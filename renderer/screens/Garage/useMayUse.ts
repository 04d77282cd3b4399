import { useMemo } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import type { MayUse } from '../../../core/garage/whereUsed.ts';
import { useKept } from '../../live/useKept.ts';
import type { RecordsHere } from '../../live/useRecords.ts';

/** Everything that may use what is owned; null until it was read. */
export const useMayUse = (state: BenchState, here: RecordsHere | null): MayUse | null => {
  const lifts = useKept('axle lift');
  const calibrations = useKept('calibration begun');
  const checks = useKept('mass check');
  const pairs = useKept('pair');
  const plans = useKept('ballast plan');
  const { captures: now, venues } = state;
  return useMemo(
    () =>
      here && lifts && calibrations && checks && pairs && plans
        ? {
            records: here.records,
            sheets: here.sheets,
            captures: [
              ...new Map([
                ...here.captures,
                ...now.map((capture) => [capture.id, capture] as const),
              ]).values(),
            ],
            lifts,
            calibrations,
            checks,
            pairs,
            plans,
            venues,
          }
        : null,
    [here, lifts, calibrations, checks, pairs, plans, now, venues],
  );
};
