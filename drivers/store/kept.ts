import { keptSchema, type Kept, type KeptKind } from '../../core/contract/kept.ts';
import { insert, type Adding } from './adding.ts';
import { checksumOf, verified } from './checksum.ts';
import { fromJson, type Reading } from './reading.ts';

/** Records of many kinds, only added; see core/contract/kept.ts. */
export const createKept = ({ db, stamp }: Adding, reading: Reading) => {
  const add = insert(db, 'kept', 'id added_at kind subject practice body crc32');
  const ofKind = db.prepare<{ id: string; body: string; crc32: number | null }>(
    'SELECT id, body, crc32 FROM kept WHERE kind = @kind ORDER BY seq',
  );
  return {
    /** Throws on a record that could not be read back. */
    add: (record: Kept): void => {
      const body = JSON.stringify(record);
      keptSchema.parse(fromJson(body));
      add({
        ...stamp(),
        id: record.id,
        kind: record.kind,
        subject: record.subject,
        practice: record.practice ? 1 : 0,
        body,
        crc32: checksumOf(body),
      });
    },
    /** All of one kind, oldest first. */
    all: (kind: KeptKind): readonly Kept[] =>
      ofKind
        .all({ kind })
        .map(({ id, body, crc32 }) =>
          reading.parse(keptSchema, `${kind} ${id}`, () => fromJson(verified(body, crc32))),
        )
        .filter((record) => record !== null),
  };
};
