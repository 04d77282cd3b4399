import { getHeapStatistics } from 'node:v8';
import { createRandom } from '../../drivers/pads/rig/random.ts';
import type { Coverage } from './coverage.ts';
import { below, Nonsense, oneIn, pick, type Target } from './target.ts';

/** An input that a target did not take well, ready to be run again. */
export interface Finding {
  readonly what: string;
  /** JSON of a text, hex of bytes. */
  readonly input: string;
}

export interface Fuzzed {
  readonly name: string;
  readonly inputs: number;
  readonly accepted: number;
  readonly seconds: number;
  /** Inputs that were kept because each ran something new. */
  readonly corpus: number;
  readonly ranges: { readonly run: number; readonly known: number };
  /** Of one input, ms. */
  readonly slowestMs: number;
  /** The most heap that one kept input took, kB. */
  readonly mostKb: number;
  readonly findings: readonly Finding[];
}

export interface FuzzOptions {
  readonly inputs: number;
  readonly seed: number;
  readonly coverage: Coverage;
  /** Inputs between two looks at the coverage. */
  readonly batch: number;
  /** Told each input before it runs, by whoever watches for one that never ends. */
  readonly before?: (input: Uint8Array | string) => void;
}

/** An input of at most 64 kB is answered in this time on any machine that runs the product, ms. */
const SLOW_MS = 1000;
/** Heap that one input may take: a start, and so much for each byte or character. */
const HEAP_START = 4 * 2 ** 20;
const HEAP_EACH = 4096;
const MOST_FINDINGS = 8;

export const spelled = (input: Uint8Array | string): string =>
  typeof input === 'string'
    ? JSON.stringify(input)
    : Array.from(input, (byte) => byte.toString(16).padStart(2, '0')).join('');

const wrongWith = (error: unknown): string => {
  if (error instanceof Nonsense) return `accepted nonsense: ${error.message}`;
  return `threw ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`;
};

/**
 * Changes inputs of the corpus and runs them. After every batch it looks at what code has run; where
 * some of it is new, the batch is run again in halves until the inputs that did it are known, and
 * they join the corpus. The same seed gives the same inputs.
 */
export const fuzz = <Input extends Uint8Array | string>(
  target: Target<Input>,
  { inputs, seed, coverage, batch, before }: FuzzOptions,
): Fuzzed => {
  const random = createRandom(seed);
  const corpus: Input[] = [...target.seeds];
  const findings = new Map<string, Finding>();
  let accepted = 0;
  let slowestMs = 0;

  const report = (what: string, input: Input): void => {
    const kind = what.split('\n').slice(0, 2).join(' ').replace(/\d+/g, 'n');
    if (findings.size < MOST_FINDINGS && !findings.has(kind))
      findings.set(kind, { what, input: spelled(input) });
  };

  const again = (input: Input): void => {
    before?.(input);
    try {
      target.run(input);
    } catch {
      // Reported when it was run first.
    }
  };

  const first = (input: Input): void => {
    before?.(input);
    const begun = performance.now();
    try {
      if (target.run(input)) accepted++;
    } catch (error) {
      report(wrongWith(error), input);
    }
    const ms = performance.now() - begun;
    slowestMs = Math.max(slowestMs, ms);
    if (ms < SLOW_MS) return;
    // The machine may have been busy with something else: twice is no chance.
    const from = performance.now();
    again(input);
    if (performance.now() - from >= SLOW_MS) report(`took ${Math.round(ms)} ms`, input);
  };

  /** Puts those of `tried` into the corpus that run something new. */
  const attribute = (tried: readonly Input[]): void => {
    coverage.reset();
    tried.forEach(again);
    const [only] = tried;
    if (!coverage.look(target.files, tried.length === 1)) return;
    if (tried.length === 1 && only !== undefined) {
      corpus.push(only);
      return;
    }
    const half = tried.length >> 1;
    attribute(tried.slice(0, half));
    attribute(tried.slice(half));
  };

  const one = (): Input => {
    // Half of the time one of the newest: they are where there may be more to find.
    const newest = Math.max(0, corpus.length - 8);
    const from = oneIn(random, 2)
      ? pick(random, corpus)
      : (corpus[newest + below(random, corpus.length - newest)] as Input);
    const changed = target.change(random, from, pick(random, corpus));
    return changed.length > target.longest ? (changed.slice(0, target.longest) as Input) : changed;
  };

  const begun = performance.now();
  coverage.reset();
  target.seeds.forEach(first);
  coverage.look(target.files, true);
  for (let done = target.seeds.length; done < inputs;) {
    const tried = Array.from({ length: Math.min(batch, inputs - done) }, one);
    tried.forEach(first);
    done += tried.length;
    if (coverage.look(target.files, false)) attribute(tried);
  }
  const seconds = (performance.now() - begun) / 1000;

  let most = 0;
  for (const input of corpus) {
    const from = getHeapStatistics().used_heap_size;
    again(input);
    const took = getHeapStatistics().used_heap_size - from;
    most = Math.max(most, took);
    if (took > HEAP_START + HEAP_EACH * input.length) report(`took ${took} bytes of heap`, input);
  }
  return {
    name: target.name,
    inputs,
    accepted,
    seconds,
    corpus: corpus.length,
    ranges: coverage.ranges(target.files),
    slowestMs,
    mostKb: Math.ceil(most / 1024),
    findings: [...findings.values()],
  };
};
