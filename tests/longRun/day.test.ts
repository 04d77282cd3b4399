import { expect, test } from 'vitest';
import { temporaryFolder } from '../support/temporaryFolder.ts';
import { simulateDay } from './simulatedDay.ts';

/** A quarter of an hour of the day that `npm run longrun` simulates. */
const LEAST_LEAK = 5;

test('a quarter of an hour leaves no timer, no handle and no heap behind', async () => {
  const [first, , last] = await simulateDay(
    temporaryFolder(),
    { hours: 0.24, every: 0.08 },
    () => undefined,
  );
  expect(last?.timers).toBe(first?.timers);
  expect(last?.handles).toBeLessThanOrEqual(first?.handles ?? 0);
  // A kilobyte kept of each frame would be 35 MB.
  expect((last?.heap ?? NaN) - (first?.heap ?? NaN)).toBeLessThan(LEAST_LEAK);
}, 60_000);
