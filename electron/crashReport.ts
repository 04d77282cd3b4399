/** A crash report as text, and which old ones to give up: pure. It stays on this computer. */

export interface Crash {
  /** What ended: `main`, `page`, `bench`. */
  readonly what: string;
  /** How, in the runtime's own words. */
  readonly how: string;
  readonly at: string;
  readonly version: string;
  readonly platform: string;
  /** The last lines of the log, oldest first. */
  readonly lines: readonly string[];
}

/** So many are kept; common practice, no source. */
const KEPT = 20;
const FORM = /^crash-\d+-[a-z]+\.txt$/;

/** Name of a report's file; names sort by time. */
export const crashFile = (what: string, wallMs: number): string =>
  `crash-${String(wallMs).padStart(15, '0')}-${what.replaceAll(/[^a-z]/g, '') || 'unknown'}.txt`;

export const crashText = ({ what, how, at, version, platform, lines }: Crash): string =>
  [
    `Millpond ${version} on ${platform}`,
    `${at}: ${what} ended`,
    '',
    how,
    '',
    'The last lines of the log:',
    ...(lines.length > 0 ? lines : ['(none)']),
    '',
  ].join('\n');

/** Of the files in the folder those to remove so that the newest stay; others' files are left alone. */
export const crashFilesToRemove = (names: readonly string[]): readonly string[] =>
  names
    .filter((name) => FORM.test(name))
    .toSorted()
    .slice(0, -KEPT);
