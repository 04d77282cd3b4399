import { z } from 'zod';

/** Copies of the records: where they go, what is there, putting one back, joining another computer's. */

/** The whole path of a folder on the computer that Millpond runs on; the bench says whether it will do. */
const folder = z.string().trim().min(1).max(400);
/** A name of ours, never a path: the bench looks for nothing else. */
const name = z.string().regex(/^millpond[a-zA-Z0-9-]{0,60}\.db$/u);
const copy = {
  /** Null is the data folder, where replaced databases are set aside. */
  folder: folder.nullable(),
  name,
};

export const BACKUP_COMMANDS = [
  /** Null: no more copies are made. */
  z.strictObject({ do: z.literal('choose copy folder'), folder: folder.nullable() }),
  z.strictObject({ do: z.literal('copy now') }),
  z.strictObject({ do: z.literal('list copies'), folder: folder.nullable() }),
  z.strictObject({ do: z.literal('check copy'), ...copy }),
  /** The measuring process starts again after these two. */
  z.strictObject({ do: z.literal('restore copy'), ...copy }),
  z.strictObject({ do: z.literal('join records'), ...copy }),
] as const;

const backupShownSchema = z.strictObject({
  name: z.string(),
  /** Wall-clock label of its making, ms, and the computer that made it; null: a database, not a copy. */
  at: z.number().int().nullable(),
  machine: z.string().nullable(),
  bytes: z.number().int().nonnegative(),
  /** checked: read through since the start. looked at: it was read through when it was made. */
  state: z.enum(['checked', 'looked at', 'damaged', 'newer']),
  /** What is wrong with it. */
  why: z.string().nullable(),
  /** Null where it was not looked into. */
  captures: z.number().int().nullable(),
  records: z.number().int().nullable(),
});
export type BackupShown = z.infer<typeof backupShownSchema>;

const joinedReportSchema = z.strictObject({
  /** Records that came, by the table they are in; tables of which none came are not named. */
  added: z.array(z.strictObject({ table: z.string(), count: z.number().int().positive() })),
  /** Records that were here already, the same. */
  same: z.number().int().nonnegative(),
  /** Records of one id that say different things: what was here counts, the other is kept beside it. */
  conflicts: z.array(z.strictObject({ table: z.string(), id: z.string() })),
  /** Records that came with a time later than now: a clock was wrong, and "newest" goes by the time. */
  ahead: z.number().int().nonnegative(),
});
export type JoinedReport = z.infer<typeof joinedReportSchema>;

export const BACKUP_RESULTS = [
  /** Bytes free there; null where none was chosen. */
  z.strictObject({ is: z.literal('copy folder'), free: z.number().nonnegative().nullable() }),
  z.strictObject({ is: z.literal('copied'), name: z.string(), isNew: z.boolean() }),
  z.strictObject({ is: z.literal('copies'), copies: z.array(backupShownSchema) }),
  z.strictObject({
    is: z.literal('restored'),
    captures: z.number().int(),
    records: z.number().int(),
    /** The copy of what was here before, in the data folder. */
    setAside: z.string(),
  }),
  z.strictObject({
    is: z.literal('joined'),
    report: joinedReportSchema,
    /** Null where nothing came: then nothing was changed. */
    setAside: z.string().nullable(),
  }),
] as const;

export const backupsNowSchema = z.strictObject({
  /** False while the records could not be opened. */
  isAvailable: z.boolean(),
  /** Where copies go; null: none are made. */
  folder: z.string().nullable(),
  /** The newest copy of this computer there; null while none is known. */
  lastAt: z.number().nullable(),
  /** Something was recorded that is in no copy yet. */
  isBehind: z.boolean(),
  underWay: z.enum(['copying', 'checking', 'restoring', 'joining']).nullable(),
  /** Why the last copy could not be made, and what to do; null where it was. */
  trouble: z.string().nullable(),
});
export type BackupsNow = z.infer<typeof backupsNowSchema>;
