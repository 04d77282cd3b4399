import { insert, type Adding } from './adding.ts';
import { checksumOf, verified } from './checksum.ts';
import { fromJson, type Reading, type Schema } from './reading.ts';

/** Cars and venues: kept by version, and one of them is in use. */
export interface Versions<T> {
  /** Adds a version where the content is new, naming the one it replaces, and uses the thing. */
  addAndUse(thing: T): void;
  /** Newest version of each, in the order in which they were first added. */
  all(): readonly T[];
  inUse(): string | null;
  /** The newest version of a thing: what a record made now refers to. Null where unknown. */
  versionOf(thingId: string): string | null;
  /** The version in use; null before any was. */
  versionInUse(): string | null;
}

/**
 * `what` names table (`cars`), columns (`car`, `car_id`) and choices (`car_choices`). One file for
 * both, so that a car and a venue cannot come to be kept by different rules.
 */
export const createVersions = <T extends { readonly id: string }>(
  what: 'car' | 'venue',
  schema: Schema<T>,
  { db, stamp }: Adding,
  reading: Reading,
): Versions<T> => {
  const addVersion = insert(db, `${what}s`, `id added_at ${what}_id replaces ${what} crc32`);
  const addChoice = insert(db, `${what}_choices`, `id added_at ${what}_version`);
  const newest = db.prepare<{ id: string; body: string }>(
    `SELECT id, ${what} AS body FROM ${what}s WHERE ${what}_id = @thing ORDER BY seq DESC LIMIT 1`,
  );
  const each = db.prepare<{ id: string; body: string; crc32: number | null }>(
    `SELECT id, ${what} AS body, crc32 FROM ${what}s
     WHERE seq IN (SELECT max(seq) FROM ${what}s GROUP BY ${what}_id)
     ORDER BY (SELECT min(first.seq) FROM ${what}s AS first WHERE first.${what}_id = ${what}s.${what}_id)`,
  );
  const used = db.prepare<{ version: string; thing: string }>(
    `SELECT ${what}_version AS version, ${what}s.${what}_id AS thing FROM ${what}_choices
     JOIN ${what}s ON ${what}s.id = ${what}_version ORDER BY ${what}_choices.seq DESC LIMIT 1`,
  );

  return {
    addAndUse: (thing) => {
      const body = JSON.stringify(schema.parse(thing));
      const before = newest.get({ thing: thing.id });
      let version = before?.id;
      if (!before || before.body !== body) {
        const stamped = stamp();
        version = stamped.id;
        addVersion({
          ...stamped,
          [`${what}_id`]: thing.id,
          replaces: before?.id ?? null,
          [what]: body,
          crc32: checksumOf(body),
        });
      }
      addChoice({ ...stamp(), [`${what}_version`]: version ?? null });
    },
    all: () =>
      each
        .all()
        .map(({ id, body, crc32 }) =>
          reading.parse(schema, `${what} ${id}`, () => fromJson(verified(body, crc32))),
        )
        .filter((thing) => thing !== null),
    inUse: () => used.get()?.thing ?? null,
    versionOf: (thingId) => newest.get({ thing: thingId })?.id ?? null,
    versionInUse: () => used.get()?.version ?? null,
  };
};
