import { afterAll, expect, test, vi } from 'vitest';
import { startCoverage } from './coverage.ts';

/**
 * The reduced twin of `npm run fuzz`: the same targets and seed, fewer inputs. That the search is guided
 * and finds what is wrong is shown on a decoder with a planted fault.
 */

// Before the product's own files are loaded, else they are not counted.
const coverage = startCoverage();
const { BYTES_TARGETS, JSON_TARGETS, TEXT_TARGETS } = await import('./targets.ts');
const { fuzz } = await import('./loop.ts');
const { changeBytes } = await import('./changes.ts');
const { must } = await import('./target.ts');
const { plantedDecode } = await import('./plantedDecoder.ts');

const SEED = 7;
/** A hang is the program's end; a busy machine is not. */
vi.setConfig({ testTimeout: 120_000 });

afterAll(() => coverage.stop());

test.each(BYTES_TARGETS.map((target) => [target.name, target] as const))('%s', (_name, target) => {
  const { findings } = fuzz(target, { inputs: 4000, seed: SEED, coverage, batch: 500 });
  expect(findings).toEqual([]);
});

test.each(JSON_TARGETS.map((target) => [target.name, target] as const))('%s', (_name, target) => {
  const { findings } = fuzz(target, { inputs: 150, seed: SEED, coverage, batch: 50 });
  expect(findings).toEqual([]);
});

test.each(TEXT_TARGETS.map((target) => [target.name, target] as const))('%s', (_name, target) => {
  const { findings } = fuzz(target, { inputs: 1000, seed: SEED, coverage, batch: 250 });
  expect(findings).toEqual([]);
});

test('three bytes in a row that nobody guesses at once are found, one by one', () => {
  const planted = fuzz(
    {
      name: 'planted',
      kind: 'bytes',
      files: ['fuzz/plantedDecoder.ts'],
      seeds: [Uint8Array.of(0, 0, 0, 0)],
      longest: 8,
      change: changeBytes,
      run: (bytes) => {
        const load = plantedDecode(bytes);
        must(load === null || load >= 0, 'a load below zero');
        return load !== null;
      },
    },
    { inputs: 40_000, seed: SEED, coverage, batch: 500 },
  );
  expect(planted.corpus).toBeGreaterThan(3);
  expect(planted.findings.map(({ what }) => what)).toEqual([
    'accepted nonsense: a load below zero',
  ]);
  expect(planted.findings[0]?.input).toMatch(/^4d5042/);
});
