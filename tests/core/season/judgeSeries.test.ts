import { expect, test } from 'vitest';
import { ZONE_RULES } from '../../../core/season/chartRules.ts';
import { judgeSeries } from '../../../core/season/judgeSeries.ts';
import { padSeries, type SeasonPoint } from '../../../core/season/padPoints.ts';
import { createNoise } from '../signal/noise.ts';

const DAY = 86_400;
const options = {
  base: 20,
  rules: ZONE_RULES,
  longestGap: 40 * DAY,
  memory: 20 * DAY,
  mostWeight: 0.3,
};

const season = (shift: (i: number) => number, seed: number) => {
  const noise = createNoise(seed);
  let at = 0;
  return Array.from({ length: 40 }, (_, i) => {
    // Two or three days of a weekend, then a fortnight.
    at += i % 3 === 2 ? 14 * DAY : DAY;
    return { at, value: 10 + noise.normal() + shift(i) };
  });
};

test('a step of four sigma after the base is found where it is, by step and by level', () => {
  const judged = judgeSeries(
    season((i) => (i >= 30 ? 4 : 0), 71),
    options,
  );
  if (!judged.ok) throw new Error(judged.why);
  expect(judged).toMatchObject({ provisional: false, inControl: false });
  expect(judged.signals.filter(({ to }) => to >= 20)[0]?.to).toBeGreaterThanOrEqual(30);
  expect(judged.signals.some(({ to }) => to >= 30 && to <= 32)).toBe(true);
  expect(judged.ewma.slice(30).some(({ outside }) => outside)).toBe(true);
});

test('a creeping drift of 0.15 sigma a time is found by the weighted average', () => {
  const judged = judgeSeries(
    season((i) => Math.max(0, i - 20) * 0.15, 72),
    options,
  );
  if (!judged.ok) throw new Error(judged.why);
  expect(judged.inControl).toBe(false);
  expect(judged.ewma.slice(-3).every(({ outside }) => outside)).toBe(true);
});

test('a quiet season is in control; few values make provisional limits or none', () => {
  const quiet = season(() => 0, 73);
  const judged = judgeSeries(quiet, options);
  expect(judged).toMatchObject({ ok: true, inControl: true, provisional: false });
  expect(judgeSeries(quiet.slice(0, 6), options)).toMatchObject({ ok: true, provisional: true });
  expect(judgeSeries(quiet.slice(0, 1), options)).toEqual({ ok: false, why: 'too few values' });
  const stuck = quiet.map(({ at }) => ({ at, value: 3 }));
  expect(judgeSeries(stuck, options)).toEqual({ ok: false, why: 'no scatter in the base' });
});

test('a jump within the base is reported, but the verdict is on what came after', () => {
  const judged = judgeSeries(
    season((i) => (i === 5 ? 8 : 0), 75),
    options,
  );
  if (!judged.ok) throw new Error(judged.why);
  expect(judged.steps).toContain(5);
  expect(judged.signals.every(({ to }) => to < 20)).toBe(true);
  expect(judged.inControl).toBe(true);
});

test('points are sorted into series that can be compared', () => {
  const base = { padSerial: 'P1', temperature: null };
  const points: SeasonPoint[] = [
    { ...base, kind: 'zero', at: 5, force: 2, u: 0.1, sinceOn: null, carries: 'slip plate' },
    { ...base, kind: 'zero', at: 1, force: 1, u: 0.1, sinceOn: 60, carries: 'slip plate' },
    { ...base, kind: 'zero', at: 2, force: 9, u: 0.1, sinceOn: 60, carries: 'nothing' },
    { ...base, kind: 'span check', at: 3, calibrationId: 'a', relative: 1e-4, u: 1e-5 },
    { ...base, kind: 'span check', at: 4, calibrationId: 'b', relative: 2e-4, u: 1e-5 },
    { ...base, kind: 'noise', at: 6, sd: Math.E },
    { ...base, padSerial: 'P2', kind: 'noise', at: 6, sd: 1 },
  ];
  expect(padSeries(points)).toEqual([
    {
      padSerial: 'P1',
      kind: 'zero',
      of: 'slip plate',
      values: [
        { at: 1, value: 1 },
        { at: 5, value: 2 },
      ],
    },
    { padSerial: 'P1', kind: 'zero', of: 'nothing', values: [{ at: 2, value: 9 }] },
    { padSerial: 'P1', kind: 'span check', of: 'a', values: [{ at: 3, value: 1e-4 }] },
    { padSerial: 'P1', kind: 'span check', of: 'b', values: [{ at: 4, value: 2e-4 }] },
    { padSerial: 'P1', kind: 'noise', of: '', values: [{ at: 6, value: 1 }] },
    { padSerial: 'P2', kind: 'noise', of: '', values: [{ at: 6, value: 0 }] },
  ]);
  expect(() => padSeries([{ ...base, kind: 'noise', at: 1, sd: 0 }])).toThrow(RangeError);
});
