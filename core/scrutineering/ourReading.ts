import type { Capture, CrossDiagonal } from '../contract/records.ts';
import type { Measured } from '../measured.ts';
import { captureValue } from '../sheet/captureValue.ts';
import type { CarState } from '../sheet/carState.ts';
import type { Item } from '../sheet/items.ts';
import { itemValue, type ValueSources } from '../sheet/itemValue.ts';
import { standingOf } from '../sheet/stale.ts';

/** Our newest reading of an item, with what the car was in. */
export type OurReading =
  | {
      readonly is: 'read';
      readonly value: Measured;
      /** Wall-clock label, ms. */
      readonly at: number;
      readonly from: 'capture' | 'record';
      readonly state: CarState;
      /** Gravity by which the force was divided, m/s²; null where it came of no pad. */
      readonly gravity: number | null;
      /** Work was done since that may have moved it. */
      readonly stale: boolean;
      /** Parts of the uncertainty that are not known. */
      readonly unknown: readonly string[];
    }
  | { readonly is: 'missing'; readonly why: string };

export interface OurSources {
  readonly carId: string;
  /** Records of any car, oldest first. */
  readonly records: readonly ValueSources[];
  /** Captures of the outing, newest first. */
  readonly captures: readonly Capture[];
  readonly cross: CrossDiagonal;
}

type Read = Extract<OurReading, { is: 'read' }>;

const ofCapture = (item: Item, { carId, captures, cross }: OurSources): Read | null => {
  const capture = captures.find((each) => each.carId === carId && !each.setAside);
  const value = capture && captureValue(capture, item, cross);
  if (!capture || !value) return null;
  return {
    is: 'read',
    value,
    at: capture.takenAt,
    from: 'capture',
    state: capture.carState,
    gravity: capture.gravity,
    stale: false,
    unknown: Object.values(capture.corners).some(({ calibrated }) => !calibrated)
      ? ['calibration of the pads']
      : [],
  };
};

const ofRecord = (item: Item, sources: ValueSources): Read | null => {
  const found = itemValue(item.id, sources);
  if (found.is === 'missing') return null;
  const { record, captures } = sources;
  const { fresh, stale } = standingOf(record, item);
  const entry = fresh.at(-1) ?? stale.at(-1) ?? record.entries.at(-1);
  return {
    is: 'read',
    value: found.value,
    at: entry?.at ?? record.begunAt,
    from: 'record',
    state: record.state,
    gravity: entry?.is === 'capture' ? (captures.get(entry.captureId)?.gravity ?? null) : null,
    stale: found.stale,
    unknown: found.unknown,
  };
};

/**
 * Our newest reading of an item of a car: of the newest record that has it, or of a capture taken since.
 * Records and captures that were set aside do not count.
 */
export const ourReading = (item: Item, sources: OurSources): OurReading => {
  let record: Read | null = null;
  for (const each of sources.records.toReversed()) {
    if (each.record.carId !== sources.carId || each.record.setAside) continue;
    record = ofRecord(item, each);
    if (record) break;
  }
  const capture = ofCapture(item, sources);
  if (capture && (!record || capture.at > record.at)) return capture;
  return (
    record ?? {
      is: 'missing',
      why: item.from === 'pads' ? 'Not weighed yet.' : 'Not measured yet.',
    }
  );
};
