import { SCREEN_KINDS } from '../contract/keptCommands.ts';
import type { Kept } from '../contract/kept.ts';
import { refuse, stored, type Handlers } from './answering.ts';
import type { ToKeep } from './keptBook.ts';

/** Records that screens keep and read. */

const isScreenKind = (kind: string): boolean => SCREEN_KINDS.some((each) => each === kind);

/** Without the head: the bench gives id, time and world. */
const body = (record: Kept): ToKeep => {
  const { id: _id, at: _at, practice: _practice, ...rest } = record;
  return rest as ToKeep;
};

export const KEPT_HANDLERS: Handlers<'keep' | 'open kept' | 'open captures'> = {
  keep: (bench, { record }) =>
    isScreenKind(record.kind)
      ? stored(bench.book.keep(body(record)))
      : refuse(
          'Records of this kind come of other commands.',
          'Do what makes them, then they are there.',
        ),
  'open kept': (bench, { kind, subject }) => ({
    ok: true,
    result: {
      is: 'kept',
      records: [...(subject === null ? bench.book.all(kind) : bench.book.of(kind, subject))],
    },
  }),
  'open captures': (bench, { ids }) => ({
    ok: true,
    result: { is: 'captures', captures: [...bench.capturesById(ids)] },
  }),
};
