import { expect, test } from 'vitest';
import { levelAll } from '../../studies/flatPatch.ts';

/** The reduced twin of the study: its first hundred patches. */
test('thrown patches are level after two rounds, and the shown twist is true', () => {
  const { patches, within, rounds, shown, held } = levelAll(
    Array.from({ length: 100 }, (_, i) => i + 1),
  );
  expect(rounds).toBeLessThanOrEqual(2);
  // Binomial: of 92 in a hundred fewer than 85 come less than once in a hundred times.
  expect(within / patches).toBeGreaterThanOrEqual(0.85);
  // 95 % of 270: fewer than 91 % held come less than once in two hundred times.
  expect(held / shown).toBeGreaterThan(0.91);
  expect(held / shown).toBeLessThan(0.99);
});
