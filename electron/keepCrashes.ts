import { mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { utcText, wallClock } from './clock.ts';
import { crashFile, crashFilesToRemove, crashText } from './crashReport.ts';

/** The last lines of the log that a report carries. */
const LINES = 200;

export interface CrashKeeper {
  /** Remembers a line of the log for a later report. */
  heard(line: string): void;
  /** Writes a report; it never throws, since something else has just gone wrong. */
  keep(what: string, how: string): void;
}

/** Keeps crash reports as text files in a folder. */
export const createCrashKeeper = (options: {
  readonly folder: string;
  readonly version: string;
  readonly log: (line: string) => void;
}): CrashKeeper => {
  const { folder, version, log } = options;
  const lines: string[] = [];
  return {
    heard: (line) => {
      lines.push(line);
      if (lines.length > LINES) lines.shift();
    },
    keep: (what, how) => {
      const wallMs = wallClock();
      const platform = `${process.platform} ${process.arch}`;
      const at = utcText(wallMs);
      try {
        mkdirSync(folder, { recursive: true, mode: 0o700 });
        const file = path.join(folder, crashFile(what, wallMs));
        writeFileSync(file, crashText({ what, how, at, version, platform, lines }), {
          mode: 0o600,
        });
        for (const old of crashFilesToRemove(readdirSync(folder)))
          rmSync(path.join(folder, old), { force: true });
      } catch (error) {
        log(`no crash report could be kept: ${String(error)}`);
      }
    },
  };
};
