import { readdirSync, readFileSync } from 'node:fs';

/** Small statistics of a benchmark, and the processor time of a tree of processes. */

export const quantile = (values: readonly number[], q: number): number => {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))] ?? Number.NaN;
};

export const median = (values: readonly number[]): number => {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length / 2;
  return sorted.length % 2 === 1
    ? (sorted[Math.floor(middle)] ?? Number.NaN)
    : ((sorted[middle - 1] ?? Number.NaN) + (sorted[middle] ?? Number.NaN)) / 2;
};

/** Largest over smallest distance from the median, as a share of it. */
export const spread = (values: readonly number[]): number => {
  const middle = median(values);
  return Math.max(...values.map((value) => Math.abs(value - middle))) / middle;
};

const TICKS_PER_SECOND = 100;

const statOf = (pid: number): { readonly parent: number; readonly seconds: number } | null => {
  try {
    const text = readFileSync(`/proc/${pid}/stat`, 'utf8');
    const fields = text.slice(text.lastIndexOf(')') + 2).split(' ');
    const [parent, utime, stime] = [fields[1], fields[11], fields[12]].map(Number);
    return {
      parent: parent ?? 0,
      seconds: ((utime ?? 0) + (stime ?? 0)) / TICKS_PER_SECOND,
    };
  } catch {
    return null;
  }
};

/** Processor seconds used so far by a process and all below it (Linux). */
export const treeSeconds = (root: number): number => {
  const stats = new Map(
    readdirSync('/proc')
      .filter((name) => /^\d+$/.test(name))
      .map((name) => [Number(name), statOf(Number(name))] as const),
  );
  const isBelow = (pid: number): boolean => {
    for (let at = pid; at > 1; at = stats.get(at)?.parent ?? 0) if (at === root) return true;
    return false;
  };
  let seconds = 0;
  for (const [pid, stat] of stats) if (stat && isBelow(pid)) seconds += stat.seconds;
  return seconds;
};
