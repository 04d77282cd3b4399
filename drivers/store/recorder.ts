import type { RawChunk } from '../../core/bench/storePort.ts';
import { GAP_REASONS, type StreamGap } from '../../core/reading.ts';
import { second } from '../../core/units.ts';
import type { Database } from './database.ts';

/** How far back the flight recorder reaches: the last hour. */
const RECORDER_KEEPS_MS = 3_600_000;

interface ChunkRow {
  readonly id: number;
  readonly wall_at: number;
  readonly mono_from: number;
  readonly count: number;
  readonly samples: Uint8Array;
}

interface GapRow {
  readonly chunk: number;
  readonly mono_from: number;
  readonly mono_to: number;
  readonly missing: number | null;
  readonly reason: string;
}

export interface ReadRaw {
  readonly padSerial: string;
  /** Wall-clock labels, ms: chunks that have anything between the two. */
  readonly fromWall: number;
  readonly toWall: number;
}

/** Float32 seconds, then Int32 counts. Throws RangeError where they do not pair up. */
const samplesBlob = ({ t, counts }: RawChunk): Uint8Array => {
  if (t.length !== counts.length)
    throw new RangeError(`a chunk of ${t.length} times and ${counts.length} counts`);
  const blob = new Uint8Array(t.byteLength + counts.byteLength);
  blob.set(new Uint8Array(t.buffer, t.byteOffset, t.byteLength));
  blob.set(new Uint8Array(counts.buffer, counts.byteOffset, counts.byteLength), t.byteLength);
  return blob;
};

/**
 * The flight recorder: raw samples of the last hour, one BLOB per pad and second.
 *
 * Old chunks fall out a few at a time with each write, oldest first, and their pages are written
 * anew, so the file stops growing after an hour and no write is ever long. "Last hour" goes by the
 * labels of the newest chunk, in the order of arrival: a wall clock that was set back or on by more
 * than an hour makes the chunks before it old, whichever way it went.
 */
export const createRecorder = (db: Database) => {
  const addPad = db.prepare(
    'INSERT INTO raw_pads (serial) VALUES (@serial) ON CONFLICT (serial) DO NOTHING',
  );
  const padBySerial = db.prepare<{ id: number }>('SELECT id FROM raw_pads WHERE serial = @serial');
  const addChunk = db.prepare<{ id: number }>(
    `INSERT INTO raw_chunks (pad, wall_at, mono_from, count, samples)
     VALUES (@pad, @wallAt, @from, @count, @samples) RETURNING id`,
  );
  const addGap = db.prepare(
    `INSERT INTO raw_gaps (chunk, mono_from, mono_to, missing, reason)
     VALUES (@chunk, @from, @to, @missing, @reason)`,
  );
  const trim = db.prepare(
    `DELETE FROM raw_chunks WHERE id IN (SELECT id FROM raw_chunks ORDER BY id LIMIT @step)
     AND abs(wall_at - @newest) > @keeps`,
  );
  // From the chunk that was running at `from`, which began before it.
  const asked = `raw_chunks.pad = @pad AND wall_at <= @to AND wall_at >= coalesce(
    (SELECT max(wall_at) FROM raw_chunks WHERE pad = @pad AND wall_at <= @from), @from)`;
  const chunksOf = db.prepare<ChunkRow>(
    `SELECT id, wall_at, mono_from, count, samples FROM raw_chunks WHERE ${asked} ORDER BY wall_at, id`,
  );
  const gapsOf = db.prepare<GapRow>(
    `SELECT chunk, raw_gaps.mono_from, mono_to, missing, reason FROM raw_gaps
     JOIN raw_chunks ON raw_chunks.id = chunk WHERE ${asked} ORDER BY raw_gaps.id`,
  );

  const padId = (serial: string): number | null => padBySerial.get({ serial })?.id ?? null;
  const knownPadId = (serial: string): number => {
    const known = padId(serial);
    if (known !== null) return known;
    addPad.run({ serial });
    return knownPadId(serial);
  };

  const add = (chunk: RawChunk): void => {
    const added = addChunk.get({
      pad: knownPadId(chunk.padSerial),
      wallAt: chunk.wallAt,
      from: chunk.from,
      count: chunk.t.length,
      samples: samplesBlob(chunk),
    });
    if (!added) throw new Error('the chunk was not added');
    for (const { from, to, missing, reason } of chunk.gaps)
      addGap.run({ chunk: added.id, from, to, missing, reason });
  };

  const gap = (row: GapRow): StreamGap => {
    const reason = GAP_REASONS.find((known) => known === row.reason);
    if (!reason) throw new RangeError(`a gap for no known reason: ${row.reason}`);
    return { from: second(row.mono_from), to: second(row.mono_to), missing: row.missing, reason };
  };

  const chunk = (padSerial: string, row: ChunkRow, gaps: readonly StreamGap[]): RawChunk => {
    const { buffer } = new Uint8Array(row.samples);
    return {
      padSerial,
      wallAt: row.wall_at,
      from: second(row.mono_from),
      t: new Float32Array(buffer, 0, row.count),
      counts: new Int32Array(buffer, 4 * row.count, row.count),
      gaps,
    };
  };

  return {
    /** All or none. Throws where a chunk is malformed or the database fails. */
    record: (chunks: readonly RawChunk[]): void => {
      if (chunks.length === 0) return;
      db.immediately(() => {
        for (const one of chunks) add(one);
        const newest = Math.max(...chunks.map(({ wallAt }) => wallAt));
        // Twice what came in, so that a backlog melts while writing goes on.
        trim.run({ step: 2 * chunks.length, newest, keeps: RECORDER_KEEPS_MS });
      });
    },
    /** Chunks of a pad, oldest first; [] where none is kept. Throws where the database fails. */
    read: ({ padSerial, fromWall, toWall }: ReadRaw): readonly RawChunk[] => {
      const pad = padId(padSerial);
      if (pad === null) return [];
      const range = { pad, from: fromWall, to: toWall };
      const gaps = Map.groupBy(gapsOf.all(range), (row) => row.chunk);
      return chunksOf
        .all(range)
        .map((row) => chunk(padSerial, row, (gaps.get(row.id) ?? []).map(gap)))
        .filter(({ wallAt, t }) => wallAt + 1000 * (t.at(-1) ?? 0) >= fromWall);
    },
  };
};
