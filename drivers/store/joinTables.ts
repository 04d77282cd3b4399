import { columnsOf, tablesOf } from './backupFile.ts';
import type { Database } from './database.ts';

/** How one table is joined. */
export interface JoinTable {
  readonly name: string;
  /** All but `seq`, which is no part of a record. */
  readonly columns: readonly string[];
  /** What makes two rows the same record. */
  readonly key: readonly string[];
  /** What two rows of one key must agree in. */
  readonly compared: readonly string[];
  readonly hasSeq: boolean;
  /**
   * by time: in the order of their making, wherever that was, so the newest is the newest of both.
   * here last: the newest stays the one of here. only here: what this computer is set to.
   */
  readonly order: 'by time' | 'here last' | 'only here';
}

const ONLY_HERE = new Set([
  'settings',
  'source_choices',
  'car_choices',
  'venue_choices',
  // Which pad stands at which corner: with two cars there are two answers.
  'assignments',
]);
/** The state of the car that is here, and the outing that goes on here. */
const HERE_LAST = new Set(['car_states', 'sessions']);

const orderOf = (name: string): JoinTable['order'] => {
  if (ONLY_HERE.has(name)) return 'only here';
  return HERE_LAST.has(name) ? 'here last' : 'by time';
};

/** Every table of the schema: one that a later step adds is joined by time unless it is named here. */
export const joinTables = (db: Database): readonly JoinTable[] =>
  tablesOf(db).map((name) => {
    const columns = columnsOf(db, name);
    const hasSeq = columns.some((column) => column.name === 'seq');
    const names = columns.flatMap((column) => (column.name === 'seq' ? [] : [column.name]));
    const primary = columns.filter(({ pk }) => pk > 0).map((column) => column.name);
    // A pad is the same pad wherever it was first heard: its serial number is all there is of it.
    const key = name === 'pads' ? ['serial'] : hasSeq ? ['id'] : primary;
    return {
      name,
      columns: names,
      key,
      compared: name === 'pads' ? key : names,
      hasSeq,
      order: orderOf(name),
    };
  });
