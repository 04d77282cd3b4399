import {
  captureSchema,
  rawWindowSchema,
  type Capture,
  type RawWindow,
} from '../../core/contract/records.ts';
import { CORNERS, type Corner, type PerCorner } from '../../core/corners.ts';
import { insert, type Adding } from './adding.ts';
import {
  captureColumns,
  captureFromRows,
  CORNER_COLUMNS,
  cornerColumns,
  type CaptureRow,
  type CornerRow,
} from './captureRows.ts';
import { checksumOf, verified } from './checksum.ts';
import type { Reading } from './reading.ts';
import { windowFromBlobs, windowToBlobs, type WindowBlobs } from './windowBlobs.ts';

/** The records a capture names, as this database knows them. */
export interface CaptureRefers {
  readonly carVersion: string | null;
  readonly venueVersion: string | null;
  readonly stateId: string | null;
}

type WindowRow = WindowBlobs & { readonly corner: Corner };

const known = (id: string | null, what: string): string => {
  if (id === null) throw new Error(`${what} was never stored`);
  return id;
};

/**
 * Captures with their raw windows. What became known later (a zero shift, being set aside) is added
 * beside them. Times and counts are pinned here, so they outlive the flight recorder's hour.
 */
export const createCaptures = ({ db, stamp }: Adding, reading: Reading) => {
  const addCapture = insert(
    db,
    'captures',
    `id added_at replaces session_id car_version car_name venue_version venue_name phase state_id
     survey_id number taken_at note practice gravity window_seconds covariance balance car_state
     car_state_notes crc32`,
  );
  const addCorner = insert(db, 'capture_corners', `capture_id ${CORNER_COLUMNS}`);
  const addWindow = insert(db, 'capture_windows', 'capture_id corner samples t counts crc32');
  const addShift = insert(db, 'zero_shifts', 'id added_at capture_id LF RF LR RR');
  const addAside = insert(db, 'set_asides', 'id added_at capture_id aside');

  const select = `SELECT captures.*, cars.car_id, venues.venue_id FROM captures
    JOIN cars ON cars.id = captures.car_version
    LEFT JOIN venues ON venues.id = captures.venue_version`;
  const bySession = db.prepare<CaptureRow>(
    `${select} WHERE session_id = @session ORDER BY captures.seq DESC`,
  );
  const byId = db.prepare<CaptureRow>(`${select} WHERE captures.id = @id`);
  const corners = db.prepare<CornerRow>('SELECT * FROM capture_corners WHERE capture_id = @id');
  const windows = db.prepare<WindowRow>('SELECT * FROM capture_windows WHERE capture_id = @id');
  const shift = db.prepare<PerCorner<number | null>>(
    'SELECT LF, RF, LR, RR FROM zero_shifts WHERE capture_id = @id ORDER BY seq DESC LIMIT 1',
  );
  const aside = db.prepare<{ aside: number }>(
    'SELECT aside FROM set_asides WHERE capture_id = @id ORDER BY seq DESC LIMIT 1',
  );

  const noteZeroShift = (captureId: string, { LF, RF, LR, RR }: PerCorner<number | null>): void =>
    addShift({ ...stamp(), capture_id: captureId, LF, RF, LR, RR });
  const setAside = (captureId: string, isAside: boolean): void =>
    addAside({ ...stamp(), capture_id: captureId, aside: isAside ? 1 : 0 });

  /** The capture as it was made: what became known later is beside it. */
  const textOf = (capture: Capture): string =>
    JSON.stringify({ ...capture, zeroShift: null, setAside: false });
  const fromRow = (row: CaptureRow): Capture | null =>
    reading.parse(captureSchema, `capture ${row.id}`, () => {
      const found = captureFromRows(row, corners.all({ id: row.id }), {
        zeroShift: shift.get({ id: row.id }) ?? null,
        setAside: aside.get({ id: row.id })?.aside === 1,
      });
      if (row.crc32 !== null) verified(textOf(captureSchema.parse(found)), row.crc32);
      return found;
    });

  return {
    /** Throws on what could not be read back, and on a car, venue or outing never stored. */
    add: (capture: Capture, window: RawWindow, refers: CaptureRefers): void => {
      const asRead = captureSchema.parse(JSON.parse(JSON.stringify(capture)));
      rawWindowSchema.parse(window);
      addCapture({
        ...stamp(),
        id: capture.id,
        replaces: null,
        ...captureColumns(capture),
        car_version: known(refers.carVersion, `car ${capture.carId}`),
        venue_version: known(refers.venueVersion, `venue ${capture.venueId}`),
        state_id: refers.stateId,
        survey_id: null,
        crc32: checksumOf(textOf(asRead)),
      });
      for (const corner of CORNERS) {
        addCorner({ capture_id: capture.id, ...cornerColumns(capture, corner) });
        addWindow({ capture_id: capture.id, corner, ...windowToBlobs(window[corner]) });
      }
      if (capture.zeroShift) noteZeroShift(capture.id, capture.zeroShift);
      if (capture.setAside) setAside(capture.id, true);
    },
    noteZeroShift,
    setAside,
    ofSession: (session: string): readonly Capture[] =>
      bySession
        .all({ session })
        .map(fromRow)
        .filter((capture) => capture !== null),
    byIds: (ids: readonly string[]): readonly Capture[] =>
      ids.flatMap((id) => {
        const row = byId.get({ id });
        const capture = row ? fromRow(row) : null;
        return capture ? [capture] : [];
      }),
    open: (id: string): { readonly capture: Capture; readonly window: RawWindow } | null => {
      const row = byId.get({ id });
      const capture = row ? fromRow(row) : null;
      if (!capture) return null;
      const window = reading.parse(rawWindowSchema, `raw window of capture ${id}`, () =>
        Object.fromEntries(
          windows.all({ id }).map((stored) => [stored.corner, windowFromBlobs(stored)]),
        ),
      );
      return window ? { capture, window } : null;
    },
  };
};
