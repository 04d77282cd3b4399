import { Session, type Profiler } from 'node:inspector';

/**
 * V8's precise coverage of some files, block by block. It counts in code compiled after it was
 * started: start it before the files are imported.
 */
export interface Coverage {
  /** Forgets what ran since the last look. */
  reset(): void;
  /** Whether something ran since the last look that no kept look has seen; `keep` keeps this one. */
  look(files: readonly string[], keep: boolean): boolean;
  /** Stretches of code between two branches: run at least once, and known. */
  ranges(files: readonly string[]): { readonly run: number; readonly known: number };
  stop(): void;
}

interface Seen {
  /** 1 where the character was run. */
  run: Uint8Array;
  readonly edges: Set<number>;
}

export const startCoverage = (): Coverage => {
  const session = new Session();
  session.connect();
  session.post('Profiler.enable');
  session.post('Profiler.startPreciseCoverage', { callCount: true, detailed: true });
  const seen = new Map<string, Seen>();

  // The inspector answers within the call when it looks at its own thread.
  const take = (): readonly Profiler.ScriptCoverage[] => {
    let result: readonly Profiler.ScriptCoverage[] = [];
    session.post('Profiler.takePreciseCoverage', (error, answer) => {
      if (error) throw error;
      result = answer.result;
    });
    return result;
  };

  const seenOf = (file: string, length: number): Seen => {
    const known = seen.get(file) ?? { run: new Uint8Array(0), edges: new Set<number>() };
    if (known.run.length < length) {
      const longer = new Uint8Array(length);
      longer.set(known.run);
      known.run = longer;
    }
    seen.set(file, known);
    return known;
  };

  const lookAt = (file: string, script: Profiler.ScriptCoverage, keep: boolean): boolean => {
    const length = Math.max(0, ...script.functions.map((each) => each.ranges[0]?.endOffset ?? 0));
    const known = seenOf(file, length);
    const now = new Uint8Array(length);
    // Outer functions come before inner ones, and so do their blocks: the last to paint is right.
    for (const { ranges } of script.functions)
      for (const { startOffset, endOffset, count } of ranges) {
        now.fill(count > 0 ? 1 : 0, startOffset, endOffset);
        if (keep) known.edges.add(startOffset).add(endOffset);
      }
    let isNew = false;
    for (let at = 0; at < length; at++)
      if (now[at] === 1 && known.run[at] !== 1) {
        isNew = true;
        if (!keep) break;
        known.run[at] = 1;
      }
    return isNew;
  };

  return {
    reset: () => void take(),
    look: (files, keep) => {
      let isNew = false;
      for (const script of take()) {
        const file = files.find((each) => script.url.endsWith(each));
        if (file !== undefined && lookAt(file, script, keep)) isNew = true;
      }
      return isNew;
    },
    ranges: (files) => {
      let run = 0;
      let all = 0;
      for (const file of files) {
        const known = seen.get(file);
        const edges = [...(known?.edges ?? [])].toSorted((a, b) => a - b);
        all += Math.max(0, edges.length - 1);
        run += edges.slice(0, -1).filter((edge) => known?.run[edge] === 1).length;
      }
      return { run, known: all };
    },
    stop: () => {
      session.post('Profiler.stopPreciseCoverage');
      session.disconnect();
    },
  };
};
