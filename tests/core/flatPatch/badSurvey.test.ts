import { describe, expect, test } from 'vitest';
import { levelPatch } from '../../../core/flatPatch/levelPatch.ts';
import type { LevelSurvey, Sight } from '../../../core/flatPatch/levelSurvey.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { createNoise } from '../signal/noise.ts';
import { LASER, LEVEL_PADS, MIDDLE, padPoints, readSurvey } from './simulatedPatch.ts';

/** What people do wrong, planted one at a time in a survey that was right. */

const PADS = { ...LEVEL_PADS, RF: { height: 0.002, forward: 0, left: 0 } };
const TWO = [MIDDLE, { id: '2', place: { x: -1, y: 1 } }];
const good = (
  how: Partial<Parameters<typeof readSurvey>[1]> & { readonly count?: number } = {},
): LevelSurvey =>
  readSurvey(PADS, {
    points: padPoints(how.count ?? 5),
    repeats: 3,
    noise: createNoise(1),
    sd: 1e-4,
    ...how,
  });
const change = (
  survey: LevelSurvey,
  make: (sight: Sight, index: number) => Sight,
): LevelSurvey => ({
  ...survey,
  sights: survey.sights.map(make),
});
const placesOf = (survey: LevelSurvey, is: (sight: Sight) => boolean): number[] =>
  survey.sights.flatMap((sight, index) => (is(sight) ? [index] : []));
const seen = (survey: LevelSurvey) => levelPatch(EXAMPLE_CAR, survey);

/** The survey still gives its twist, and names just these sights. */
const expectNamed = (
  survey: LevelSurvey,
  code: string,
  sights: readonly number[],
  words: RegExp,
): void => {
  const patch = seen(survey);
  if (!patch.ok) throw new Error(patch.why);
  const found = patch.findings.find((each) => each.code === code);
  expect(found?.what).toMatch(words);
  expect(found?.sights).toEqual(sights);
  expect(patch.leftOut).toEqual(code === 'missing sight' ? [] : sights);
  expect(Math.abs(patch.twist.value + 0.002)).toBeLessThan(4 * patch.twist.u);
  for (const index of sights) expect(patch.residuals[index]).toBeNull();
};

describe('one sight', () => {
  test.each([
    ['inches typed as millimetres', 1 / 25.4],
    ['centimetres typed as millimetres', 1 / 10],
    ['metres typed as millimetres', 1 / 1000],
    ['millimetres typed as centimetres', 10],
    ['millimetres typed as metres', 1000],
  ])('%s is named and left out', (words, factor) => {
    const survey = change(good(), (sight, i) =>
      i === 20 ? { ...sight, reading: sight.reading! * factor } : sight,
    );
    expectNamed(survey, 'wrong unit', [20], new RegExp(words));
  });

  test('the staff upside down', () => {
    const instrument = { ...LASER, staffLength: 3 };
    const survey = change(good({ instrument }), (sight, i) =>
      i === 31 ? { ...sight, reading: 3 - sight.reading! } : sight,
    );
    expectNamed(survey, 'upside down', [31], /upside down/);
  });

  test('upside down near the middle of the staff, where it is no gross error', () => {
    const instrument = { ...LASER, staffLength: 2.42 };
    const survey = change(good({ instrument }), (sight, i) =>
      i === 31 ? { ...sight, reading: 2.42 - sight.reading! } : sight,
    );
    expectNamed(survey, 'upside down', [31], /upside down/);
  });

  test('a millimetre misread', () => {
    const survey = change(good(), (sight, i) =>
      i === 8 ? { ...sight, reading: sight.reading! + 1e-3 } : sight,
    );
    expectNamed(survey, 'outlier', [8], /LF point LF3 .*more than the rest says/);
  });

  test('a sight missing: said, and the rest holds', () => {
    const survey = change(good(), (sight, i) => (i === 5 ? { ...sight, reading: null } : sight));
    expectNamed(survey, 'missing sight', [5], /No reading for LF point LF2/);
  });

  test('two that do not agree and nothing to tell which: both left out, both named', () => {
    const survey = change(good({ repeats: 2, count: 1, setUps: TWO }), (sight, i) =>
      i === 2 ? { ...sight, reading: sight.reading! + 0.004 } : sight,
    );
    const patch = seen(survey);
    if (!patch.ok) throw new Error(patch.why);
    // The other set-up sees the same pad, so here it can be told.
    expect(patch.leftOut).toEqual([2]);
    const alone = change(good({ repeats: 2, count: 1 }), (sight, i) =>
      i === 2 ? { ...sight, reading: sight.reading! + 0.004 } : sight,
    );
    expect(seen(alone)).toMatchObject({ ok: false, code: 'no sight' });
    const refused = seen(alone);
    expect(refused.findings[0]).toMatchObject({ sights: [2, 3] });
    expect(refused.findings[0]?.what).toMatch(/cannot be told/);
  });
});

describe('more than one sight', () => {
  test('a point moved between two set-ups', () => {
    const survey = good({ setUps: TWO });
    const bad = placesOf(survey, ({ setUp, point }) => setUp === '2' && point === 'RR4');
    expectNamed(
      change(survey, (sight, i) =>
        bad.includes(i) ? { ...sight, reading: sight.reading! - 0.0015 } : sight,
      ),
      'moved',
      bad,
      /RR point RR4 from set-up 2 read .* less than the rest says, all repeats alike/,
    );
  });

  test('a whole pad kicked between three set-ups', () => {
    const survey = good({ setUps: [...TWO, { id: '3', place: { x: -2, y: -1 } }] });
    const bad = placesOf(survey, ({ setUp, point }) => setUp === '2' && point.startsWith('LR'));
    expectNamed(
      change(survey, (sight, i) =>
        bad.includes(i) ? { ...sight, reading: sight.reading! + 0.0008 } : sight,
      ),
      'moved',
      bad,
      /whole pad/,
    );
  });

  test('dirt under one point', () => {
    const survey = good();
    const bad = placesOf(survey, ({ point }) => point === 'LF1');
    expectNamed(
      change(survey, (sight, i) =>
        bad.includes(i) ? { ...sight, reading: sight.reading! - 0.002 } : sight,
      ),
      'outlier',
      bad,
      /dirt or a dent/,
    );
  });

  test.each([
    ['inches', 1 / 25.4, /set-up 2 taken as inches typed as millimetres/, 'wrong unit'],
    ['upside down', -1, /set-up 2 taken as the staff stood upside down/, 'upside down'],
  ])('one of three set-ups read in %s throughout', (_, factor, words, code) => {
    const pads = { ...PADS, LR: { height: -0.03, forward: 0, left: 0 } };
    const survey = change(
      readSurvey(pads, {
        points: padPoints(5),
        repeats: 2,
        noise: createNoise(4),
        sd: 1e-4,
        setUps: [...TWO, { id: '3', place: null }],
        instrument: { ...LASER, cone: 0, staffLength: 2.4 },
      }),
      (sight) =>
        sight.setUp === '2'
          ? { ...sight, reading: sight.reading! * factor + (factor < 0 ? 2.4 : 0) }
          : sight,
    );
    expect(seen(survey)).toMatchObject({
      ok: false,
      code,
      why: expect.stringMatching(words) as string,
    });
  });

  test('all of a set-up in millimetres typed as metres', () => {
    expect(
      seen(change(good(), (sight) => ({ ...sight, reading: sight.reading! * 1000 }))),
    ).toMatchObject({ ok: false, code: 'wrong unit' });
  });

  test('half in one unit, half in another', () => {
    expect(
      seen(
        change(good(), (sight, i) => (i % 2 ? { ...sight, reading: sight.reading! / 10 } : sight)),
      ),
    ).toMatchObject({ ok: false, code: 'wrong unit' });
  });
});

describe('surveys that give no heights say what to read', () => {
  test('pads that no common point ties', () => {
    const survey = good({
      setUps: TWO,
      seen: (setUp, { pad }) => (setUp === '1') === (pad === 'LF' || pad === 'RF'),
    });
    const refused = seen(survey);
    expect(refused).toMatchObject({ ok: false, code: 'not connected' });
    expect(refused.ok ? '' : refused.why).toMatch(/LF and RF to LR and RR/);
  });

  test('a mark on the ground ties them', () => {
    const points = [...padPoints(3), { id: 'bolt', pad: null, x: -1.3, y: 0.1 }];
    const survey = readSurvey(PADS, {
      points,
      repeats: 3,
      noise: createNoise(9),
      sd: 1e-4,
      setUps: TWO,
      seen: (setUp, { pad }) => pad === null || (setUp === '1') === (pad === 'LF' || pad === 'RF'),
      marks: { bolt: -0.05 },
    });
    const patch = seen(survey);
    if (!patch.ok) throw new Error(patch.why);
    expect(Math.abs(patch.twist.value + 0.002)).toBeLessThan(4 * patch.twist.u);
    expect(patch.heights.marks).toEqual(['bolt']);
    expect(patch.heights.values[4]).toBeCloseTo(-0.05 - 0.0005, 3);
  });

  test('a pad not read, points read once, copied repeats, lists that do not match', () => {
    const survey = good();
    expect(
      seen({ ...survey, sights: survey.sights.filter(({ point }) => !point.startsWith('RR')) }),
    ).toMatchObject({ ok: false, code: 'no sight', why: 'No sight of RR.' });
    expect(seen(good({ repeats: 1, count: 1 }))).toMatchObject({ ok: false, code: 'no scatter' });
    expect(seen(good({ sd: 0, count: 1 }))).toMatchObject({ ok: false, code: 'no scatter' });
    expect(
      seen({ ...survey, sights: [...survey.sights, { setUp: '9', point: 'LF1', reading: 1 }] }),
    ).toMatchObject({ ok: false, code: 'not a survey' });
    expect(seen({ ...survey, points: [...survey.points, survey.points[0]!] })).toMatchObject({
      ok: false,
      code: 'not a survey',
    });
  });

  test('once read, but with a scatter known from before', () => {
    const patch = seen(good({ repeats: 1, count: 1, sightScatter: { sd: 1e-4, dof: 30 } }));
    if (!patch.ok) throw new Error(patch.why);
    expect(patch.scatter).toMatchObject({ sd: 1e-4, dof: 30, from: 'stated' });
    expect(patch.twist.dof).toBeCloseTo(30, 9);
  });
});

test('a sound survey has something left out in about 1 of 100', () => {
  let wrong = 0;
  for (let seed = 1; seed <= 300; seed += 1) {
    const patch = seen(good({ noise: createNoise(seed), setUps: TWO, repeats: 2, count: 3 }));
    if (!patch.ok || patch.leftOut.length > 0) wrong += 1;
  }
  // Binomial, 300 of 1 %: nine or more come once in 250 times.
  expect(wrong).toBeLessThan(9);
});

test('a scatter that is not the stated one is said, and the larger counts', () => {
  const patch = seen(good({ sightScatter: { sd: 2e-5, dof: 20 } }));
  if (!patch.ok) throw new Error(patch.why);
  expect(patch.scatter.from).toBe('sights');
  expect(patch.findings.find(({ code }) => code === 'scatter')?.what).toMatch(/times the stated/);
  const copied = seen(good({ sd: 4e-6, sightScatter: { sd: 1e-4, dof: 20 } }));
  expect(copied.findings.find(({ code }) => code === 'scatter')?.what).toMatch(/times less/);
});
