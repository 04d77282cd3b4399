import { expect, test } from 'vitest';
import { callProgress, watchCall } from '../../../core/adjust/progress.ts';
import { isSettledReading, loadsNow, settledReading } from '../../../core/adjust/settledReading.ts';
import type { CornerLive, Frame } from '../../../core/contract/events.ts';
import { inOrder, perCorner, type Corner, type PerCorner } from '../../../core/corners.ts';
import { STANDARD_GRAVITY } from '../../../core/units.ts';
import { FRICTION, NONE, readingAt, responseOf, sixths } from './exampleAdjust.ts';

const cornerAt = (mass: number, change: Partial<CornerLive> = {}): CornerLive => ({
  status: 'live',
  age: 0.01,
  mass,
  stillness: 'settled',
  mean: mass,
  u: 0.02,
  overload: false,
  calibrated: true,
  zeroed: true,
  t: [],
  kg: [],
  ...change,
});
const massesOf = (seats: PerCorner<number>): readonly number[] =>
  readingAt(seats).loads.values.map((load) => load / STANDARD_GRAVITY);
const frameAt = (
  masses: readonly number[],
  change: { readonly settledFor?: number; readonly lost?: Corner } = {},
): Frame => ({
  no: 1,
  t: 10,
  corners: perCorner((corner, i) =>
    cornerAt(masses[i] as number, corner === change.lost ? { status: 'stale' } : {}),
  ),
  stillness: 'settled',
  settledFor: change.settledFor ?? 2,
  balance: null,
  early: null,
  onePad: null,
  notReady: null,
});
const ABOUT = { gravity: STANDARD_GRAVITY, heights: [], settled: 'bounced' } as const;
const LEVEL = massesOf(NONE);

test('a settled frame is a reading in newton; one that is not settled or not live is none', () => {
  const reading = settledReading(frameAt(LEVEL), ABOUT);
  reading?.loads.values.forEach((load, i) =>
    expect(load).toBeCloseTo((LEVEL[i] as number) * STANDARD_GRAVITY, 9),
  );
  expect(reading?.loads.covariance[5]).toBeCloseTo((0.02 * STANDARD_GRAVITY) ** 2, 12);
  expect(reading?.loads.covariance[1]).toBe(0);
  for (const frame of [
    null,
    frameAt(LEVEL, { settledFor: 0.5 }),
    frameAt(LEVEL, { lost: 'LR' }),
    { ...frameAt(LEVEL), corners: perCorner(() => cornerAt(300, { mean: null, u: null })) },
  ]) {
    expect(isSettledReading(frame)).toBe(false);
    expect(settledReading(frame, ABOUT)).toBeNull();
  }
});

test('a moving load has a wider uncertainty than the settled one before it', () => {
  const before = readingAt(NONE);
  const moving = {
    ...frameAt(LEVEL),
    corners: perCorner(() => cornerAt(300, { mean: null, u: null, stillness: 'moving' })),
  };
  const now = loadsNow(moving, before);
  inOrder(now).forEach((load, i) =>
    expect(load?.u).toBeGreaterThan(Math.sqrt(before.loads.covariance[i * 5] as number)),
  );
});

test('a pad lost in the middle of a call: it says so, and goes on from the same loads', () => {
  const before = readingAt(NONE);
  const watched = watchCall({
    call: { corner: 'RF', steps: 6, turns: 1 },
    adjuster: sixths().RF,
    response: responseOf(),
    before,
    friction: FRICTION,
  });
  if (!('call' in watched)) throw new Error(watched.why);
  // Half a turn up at the right front: 0.75 mm of thread over the motion ratio.
  const half = massesOf({ ...NONE, RF: 0.75e-3 / 0.95 });
  const seen = (frame: Frame) => callProgress(watched, loadsNow(frame, before));
  const there = seen(frameAt(half));
  expect(there).toMatchObject({ ok: true, verdict: 'under way' });
  expect(there.ok && there.share).toBeCloseTo(0.5, 6);
  expect(seen(frameAt(half, { lost: 'RR' }))).toMatchObject({ ok: false, code: 'pad lost' });
  expect(seen(frameAt(half))).toEqual(there);
});
