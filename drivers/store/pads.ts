import type { ZeroRecord } from '../../core/bench/storePort.ts';
import type { Corner } from '../../core/corners.ts';
import { insert, type Adding } from './adding.ts';
import { checksumOf, verified } from './checksum.ts';
import type { Reading } from './reading.ts';

interface ZeroRow {
  readonly id: string;
  readonly pad_serial: string;
  readonly taken_at: number;
  readonly counts: number;
  readonly u: number;
  readonly dof: number | null;
  readonly temperature: number | null;
  readonly crc32: number | null;
}

/** Pads by serial number, the corners they were given and their zeros. */
export const createPads = ({ db, stamp }: Adding, reading: Reading) => {
  const addPad = db.prepare(
    'INSERT INTO pads (id, added_at, serial) VALUES (@id, @added_at, @serial) ON CONFLICT (serial) DO NOTHING',
  );
  const addAssignment = insert(db, 'assignments', 'id added_at pad_serial corner');
  const addZero = insert(
    db,
    'zeros',
    'id added_at pad_serial taken_at counts u dof temperature crc32',
  );
  const assignments = db.prepare<{ pad_serial: string; corner: Corner | null }>(
    'SELECT pad_serial, corner FROM assignments ORDER BY seq',
  );
  const newestZeros = db.prepare<ZeroRow>(
    `SELECT id, pad_serial, taken_at, counts, u, dof, temperature, crc32 FROM zeros
     WHERE seq IN (SELECT max(seq) FROM zeros GROUP BY pad_serial) ORDER BY seq`,
  );
  const zerosOf = db.prepare<ZeroRow>(
    `SELECT id, pad_serial, taken_at, counts, u, dof, temperature, crc32 FROM zeros
     WHERE pad_serial = @pad ORDER BY seq`,
  );
  const textOf = ({ id, padSerial, takenAt, counts, u, dof, temperature }: ZeroRecord): string =>
    JSON.stringify([id, padSerial, takenAt, counts, u, dof, temperature]);
  /** None where the row is not what was stored. */
  const fromRow = (row: ZeroRow): readonly ZeroRecord[] => {
    const zero: ZeroRecord = {
      id: row.id,
      padSerial: row.pad_serial,
      takenAt: row.taken_at,
      counts: row.counts,
      u: row.u,
      dof: row.dof ?? Infinity,
      temperature: row.temperature,
    };
    try {
      verified(textOf(zero), row.crc32);
      return [zero];
    } catch (error) {
      reading.unreadable(`zero ${row.id}`, error instanceof Error ? error.message : String(error));
      return [];
    }
  };
  /** A pad is known from the first record that names it. */
  const know = (serial: string): void => void addPad.run({ ...stamp(), serial });

  return {
    know,
    assign: (serial: string, corner: Corner | null): void => {
      know(serial);
      addAssignment({ ...stamp(), pad_serial: serial, corner });
    },
    addZero: (zero: ZeroRecord): void => {
      know(zero.padSerial);
      addZero({
        ...stamp(),
        id: zero.id,
        pad_serial: zero.padSerial,
        taken_at: zero.takenAt,
        counts: zero.counts,
        u: zero.u,
        dof: zero.dof === Infinity ? null : zero.dof,
        temperature: zero.temperature,
        crc32: checksumOf(textOf(zero)),
      });
    },
    /** The history played through: a corner has one pad, and a pad one corner. */
    assigned: (): ReadonlyMap<string, Corner> => {
      const bySerial = new Map<string, Corner>();
      for (const { pad_serial: serial, corner } of assignments.all()) {
        for (const [other, held] of bySerial) if (held === corner) bySerial.delete(other);
        if (corner === null) bySerial.delete(serial);
        else bySerial.set(serial, corner);
      }
      return bySerial;
    },
    newestZeros: (): ReadonlyMap<string, ZeroRecord> =>
      new Map(
        newestZeros.all().flatMap((row) => fromRow(row).map((zero) => [zero.padSerial, zero])),
      ),
    /** Every zero of a pad, oldest first. */
    zerosOf: (padSerial: string): readonly ZeroRecord[] =>
      zerosOf.all({ pad: padSerial }).flatMap(fromRow),
  };
};
