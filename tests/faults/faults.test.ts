import { expect, test } from 'vitest';
import { temporaryFolder } from '../support/temporaryFolder.ts';
import { FAULTS } from './faults.ts';

/** Every fault, reduced; in full by `npm run faults`, which also makes the table of DEVELOPERS.md. */

const SHARE = 1 / 8;

test.each(FAULTS)(
  '$name: $done',
  async ({ run }) => {
    const { seen, unnamed, lost, staleAsLive, others, acknowledged, frames } = await run(
      temporaryFolder(),
      SHARE,
    );
    expect(seen).not.toEqual([]);
    expect(unnamed, 'corners at fault that nobody names').toEqual([]);
    expect(acknowledged).toBeGreaterThan(0);
    expect(lost, 'acknowledged and gone').toBe(0);
    expect(staleAsLive, `of ${frames} frames`).toBe(0);
    expect(others?.unbroken ?? true, others?.figures).toBe(true);
  },
  60_000,
);
