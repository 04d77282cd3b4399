import { expect, test } from 'vitest';
import { createTraceRing } from '../../renderer/live/traceRing.ts';

test('a hole that begins at the last point’s time breaks the line; older points are left out', () => {
  const ring = createTraceRing(8);
  ring.append(1, 300);
  ring.append(1, 301);
  ring.append(1, null);
  ring.append(0.5, null);
  ring.append(1.5, 302);
  const kept = Array.from({ length: ring.written() }, (_, at) => [
    ring.timeAt(at),
    ring.massAt(at),
  ]);
  expect(kept).toEqual([
    [1, 300],
    [1, Number.NaN],
    [1.5, 302],
  ]);
});
