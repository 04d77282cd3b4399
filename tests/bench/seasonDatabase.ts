import type { StorePort } from '../../core/bench/storePort.ts';
import type { Kept } from '../../core/contract/kept.ts';
import type { Capture } from '../../core/contract/records.ts';
import { CORNERS, perCorner } from '../../core/corners.ts';
import { EXAMPLE_CAR } from '../../core/sheet/car.ts';
import type { CarRecord } from '../../core/sheet/carRecord.ts';
import { EXAMPLE_SHEET } from '../../core/sheet/exampleSheet.ts';
import { itemsById, itemsOf } from '../../core/sheet/items.ts';
import { EXAMPLE_VENUES } from '../../core/sheet/venue.ts';
import { createRandom } from '../../drivers/pads/rig/random.ts';
import {
  CAMBER_GAUGE,
  captureOf,
  freshRecord,
  LEVEL_WEIGHTS,
  read,
  RULE,
  SCALE,
  STATED,
  weighed,
} from '../core/sheet/sampleRecord.ts';
import { sampleWindow } from '../drivers/store/sampleRecords.ts';

const EVENTS = 40;
const SESSIONS = 8;
const WALL = Date.UTC(2026, 0, 10, 9);
const DAY = 86_400_000;

const GAUGES = { length: RULE, angle: CAMBER_GAUGE, mass: STATED } as const;

/** One record with every item of the example sheet that is read by hand, and its capture. */
const recordOf = (
  about: Pick<CarRecord, 'id' | 'phase' | 'venueId' | 'begunAt'> & { readonly captureId: string },
  random: ReturnType<typeof createRandom>,
): { readonly record: CarRecord; readonly capture: Capture } => {
  const { captureId, ...head } = about;
  const capture = {
    ...captureOf(
      captureId,
      perCorner((corner) => LEVEL_WEIGHTS[corner] + random.between(-0.5, 0.5)),
    ),
    venueId: about.venueId ?? '',
    takenAt: about.begunAt,
    practice: true,
  };
  const items = itemsById(itemsOf(EXAMPLE_CAR, []));
  let record = weighed(freshRecord({ ...head, practice: true }), capture.id);
  for (const { item, target, tolerance } of EXAMPLE_SHEET.lines) {
    const found = items.get(item);
    if (found?.from !== 'hand' || item === 'rake' || item === 'thrust') continue;
    const gauge = item.startsWith('toe.')
      ? SCALE
      : (GAUGES[found.quantity as keyof typeof GAUGES] ?? RULE);
    const value = (target ?? 0) + random.between(-1, 1) * (tolerance ?? 0);
    record = read(record, { item, value, gauge, typed: String(value) });
  }
  return { record, capture };
};

/**
 * Fills a database as a season does: 40 events × 8 sessions × (set-up, set-down), each with a capture
 * and every item of the example sheet, in the world of the practice rig. Gives the ids of the records.
 */
export const fillSeason = (store: StorePort): readonly string[] => {
  const random = createRandom(4);
  let count = 0;
  const idOf = (): string => `0190a0c0-0002-7000-8000-${String((count += 1)).padStart(12, '0')}`;
  const keep = (kept: Record<string, unknown>): void => {
    const outcome = store.keep({
      id: idOf(),
      at: WALL,
      practice: true,
      ...kept,
    } as Kept);
    if (!outcome.ok) throw new Error(outcome.fault.detail ?? outcome.fault.code);
  };
  for (const venue of EXAMPLE_VENUES) store.saveVenue(venue);
  store.saveCar(EXAMPLE_CAR);
  const outingId = idOf();
  store.beginOuting({ id: outingId, name: 'Season', begunAt: WALL, practice: true });
  keep({ kind: 'sheet', subject: EXAMPLE_SHEET.lineageId, sheet: EXAMPLE_SHEET });
  const window = sampleWindow(1);
  const ids: string[] = [];
  for (let event = 0; event < EVENTS; event += 1)
    for (let session = 0; session < SESSIONS; session += 1)
      for (const phase of ['set-up', 'set-down'] as const) {
        const id = idOf();
        const { record, capture } = recordOf(
          {
            id,
            captureId: idOf(),
            phase,
            venueId: EXAMPLE_VENUES[event % EXAMPLE_VENUES.length]?.id ?? null,
            begunAt:
              WALL + event * 7 * DAY + session * 7_200_000 + (phase === 'set-up' ? 0 : 3.6e6),
          },
          random,
        );
        const saved = store.saveCapture({ ...capture, sessionId: outingId }, window);
        if (!saved.ok) throw new Error(saved.fault.detail ?? saved.fault.code);
        keep({ kind: 'car record', subject: id, record: { ...record, entries: [] } });
        for (const entry of record.entries)
          keep({ kind: 'record entry', subject: id, entry, gauge: null });
        ids.push(id);
      }
  // A study of lowerings of the unchanged car.
  for (let lowering = 0; lowering < 8; lowering += 1) {
    const weights = perCorner((corner) => {
      const side = CORNERS.indexOf(corner) % 3 === 0 ? 1 : -1;
      return LEVEL_WEIGHTS[corner] + side * random.between(-0.2, 0.2) + random.between(-0.05, 0.05);
    });
    const capture = { ...captureOf(idOf(), weights), sessionId: outingId, practice: true };
    store.saveCapture({ ...capture, venueId: EXAMPLE_VENUES[0]?.id ?? '' }, window);
    keep({
      kind: 'lowering',
      subject: 'study',
      captureId: capture.id,
      person: 'A',
      laying: 1,
    });
  }
  return ids;
};
