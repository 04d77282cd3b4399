import { isDeepStrictEqual } from 'node:util';
import type { Capture } from '../../core/contract/records.ts';
import { CORNERS } from '../../core/corners.ts';
import { openStore, type StoreOptions } from '../../drivers/store/open.ts';
import type { Observed } from './fault.ts';

/** Opens the database as a new start would and looks for what was acknowledged. */
export const recordsFound = (
  options: StoreOptions,
  { outing, acknowledged }: { readonly outing: string; readonly acknowledged: readonly Capture[] },
): Pick<Observed, 'kept' | 'acknowledged' | 'lost'> => {
  const opened = openStore(options);
  if (!opened.ok) throw new Error(`the database did not open again: ${opened.fault.code}`);
  const { store } = opened;
  const there = store.captures(outing);
  const isWhole = (capture: Capture): boolean => {
    const window = store.openCapture(capture.id)?.window;
    return (
      isDeepStrictEqual(
        there.find(({ id }) => id === capture.id),
        capture,
      ) &&
      window !== undefined &&
      CORNERS.every((corner) => (window[corner]?.raw.length ?? 0) > 0)
    );
  };
  const whole = acknowledged.filter(isWhole).length;
  const seconds = store
    .readRaw({
      padSerial: acknowledged[0]?.corners.LF.padSerial ?? '',
      fromWall: 0,
      toWall: Number.MAX_SAFE_INTEGER,
    })
    .reduce((sum, { t }) => sum + t.length / 80, 0);
  store.close();
  return {
    kept: `${whole} of ${acknowledged.length} captures whole, ${there.length - acknowledged.length} others; flight recorder ${seconds.toFixed(0)} s of the left front`,
    acknowledged: acknowledged.length,
    lost: acknowledged.length - whole,
  };
};
