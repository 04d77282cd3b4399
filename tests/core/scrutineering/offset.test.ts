import { describe, expect, test } from 'vitest';
import { eventScatter } from '../../../core/scrutineering/eventScatter.ts';
import { offset } from '../../../core/scrutineering/offset.ts';
import { outlyingEvents, outlyingPairs } from '../../../core/scrutineering/outliers.ts';
import type { Pair } from '../../../core/scrutineering/pair.ts';
import { marginAt } from '../../../core/scrutineering/prediction.ts';
import { asked, pairsOf } from './pairs.ts';

const known = (input: Parameters<typeof offset>[0]) => {
  const found = offset(input);
  if (!found.ok) throw new Error(found.why);
  return found;
};
const with1 = (pairs: readonly Pair[], at: number, change: Partial<Pair>): readonly Pair[] =>
  pairs.map((pair, index) => (index === at ? { ...pair, ...change } : pair));

describe('mean difference and scatter', () => {
  test('voltage of ten days, five readings each: JCGM 100:2008, H.5', () => {
    // Published day means and standard deviations (µV over 10 V); days made to have just these.
    const means = [172, 116, 13, 144, 106, 31, 60, 125, 163, 41];
    const sds = [60, 77, 111, 101, 67, 93, 80, 73, 88, 86];
    const days = means.map((mean, day) =>
      [-1, -1, 0, 1, 1].map((sign) => mean + sign * (sds[day] as number)),
    );
    const { mean, scatter } = known(asked(pairsOf(days, { ours: 0 })));
    expect(mean?.value).toBeCloseTo(97, 0);
    expect(Math.sqrt(scatter.between?.value ?? 0)).toBeCloseTo(57, 0);
    expect(Math.sqrt(scatter.within?.value ?? 0)).toBeCloseTo(85, 0);
    expect(mean?.u).toBeCloseTo(18.05, 1);
    expect(mean?.dof).toBe(9);
  });

  test('an event counts once, however many pairs it has', () => {
    const { mean } = known(asked(pairsOf([[1], [2, 2.2, 1.8, 2]])));
    expect(mean?.value).toBeCloseTo(1.5, 12);
  });

  test('events alike: nothing between them, and it is not below zero on the screen', () => {
    const { between, within } = known(
      asked(
        pairsOf([
          [1, 2],
          [1.1, 1.9],
          [0.9, 2.0],
        ]),
      ),
    );
    expect(between?.variance).toBeLessThan(0);
    expect(between?.sd).toBe(0);
    expect(within?.dof).toBe(3);
  });
});

describe('corrections', () => {
  test('ours at the gravity of the place, theirs as it is', () => {
    // Design check: span at 9.813654, used at 9.792001: 1305 kg is shown as 1302.12 kg.
    const gravity = { taken: 9.813654, there: 9.792001 };
    const pairs = pairsOf([[0], [1]]).map((pair, index) => ({
      ...pair,
      ours: 1302.12,
      theirs: 1305 + index,
      gravity,
    }));
    expect(known(asked(pairs)).mean?.value).toBeCloseTo(0.5, 1);
  });

  test('a total in another state of seat and fuel', () => {
    const state = { seatMass: 80, fuelMass: 5, tyres: 'cold' } as const;
    const pairs = pairsOf([[1], [1.2], [0.8]]).map((pair) => ({
      ...pair,
      theirs: pair.theirs - 15,
      states: { ours: pair.states.ours, theirs: state },
    }));
    const { mean, notes } = known(asked(pairs));
    expect(mean?.value).toBeCloseTo(1, 12);
    expect(notes).toEqual([]);
  });

  test('what was not checked is said, and not corrected', () => {
    const pairs = pairsOf([[1], [1.2]]);
    const unchecked = { seatMass: null, fuelMass: 20, tyres: null };
    const changed = with1(pairs, 0, { states: { ours: unchecked, theirs: unchecked } });
    expect(known(asked(changed)).notes).toEqual([
      'event 0, pair 0: seat or fuel not checked, not corrected.',
    ]);
  });

  test('pairs on other tyres than the next are left out and named', () => {
    const pairs = pairsOf([[1], [1.2], [5]]);
    const { states } = pairs[0] as Pair;
    const hot = { ...states, theirs: { ...states.theirs, tyres: 'hot with pick-up' as const } };
    const found = known(asked(with1(pairs, 2, { states: hot }), { next: states }));
    expect(found.leftOut).toEqual([
      { pair: '2.0', why: 'theirs was read on hot with pick-up, the next is on cold' },
    ]);
    expect(found.mean?.value).toBeCloseTo(1.1, 12);
  });
});

describe('trend', () => {
  test('a drift of their scale is found and can be followed', () => {
    const days = [0, 30, 60, 90, 120];
    const drift = days.map((day, i) => [1 + 0.01 * day + [0.02, -0.02, 0.01, -0.02, 0.01][i]!]);
    const found = known(asked(pairsOf(drift, { days }), { followTo: 150 }));
    expect(found.trend?.p).toBeLessThan(0.001);
    expect(found.prediction.shift).toBeCloseTo(2.5, 1);
    expect(found.prediction.dof).toBe(3);
  });

  test('to follow it takes three events with their days', () => {
    expect(offset(asked(pairsOf([[1], [2]], { days: [0, 5] }), { followTo: 9 })).ok).toBe(false);
    expect(known(asked(pairsOf([[1], [2], [3]]))).trend).toBeNull();
  });
});

describe('outliers are marked and kept', () => {
  test('mass spectrometer readings: e-Handbook 1.3.5.17.1', () => {
    const readings = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];
    expect(outlyingEvents(readings)).toEqual([...readings.slice(0, 7).map(() => false), true]);
    // Without it nothing stands out.
    expect(outlyingEvents(readings.slice(0, 7))).toEqual(readings.slice(0, 7).map(() => false));
  });

  test('at the published limit of the test: n = 8, G = 2.126 at 5 % on both sides', () => {
    // Seven values of variance such that the eighth has just this G: G = (n − 1)·x/√((n − 1)(…)).
    const gOf = (x: number): number => {
      const all = [-1, -0.5, -0.25, 0, 0.25, 0.5, 1, x];
      const mean = all.reduce((sum, value) => sum + value, 0) / 8;
      const sd = Math.sqrt(all.reduce((sum, value) => sum + (value - mean) ** 2, 0) / 7);
      return (x - mean) / sd;
    };
    for (let x = 1.5; x < 4; x += 0.01)
      if (Math.abs(gOf(x) - 2.126) > 0.002)
        expect(outlyingEvents([-1, -0.5, -0.25, 0, 0.25, 0.5, 1, x])[7], `${x}`).toBe(
          gOf(x) > 2.126,
        );
  });

  test('one pair of an event', () => {
    const events = [
      [1, 1.02, 0.98],
      [1.01, 1.5, 0.99],
      [1, 1.01, 1.02, 0.97],
    ];
    expect(outlyingPairs(events).flat().indexOf(true)).toBe(4);
    const { used, scatter } = known(asked(pairsOf(events)));
    expect(used.filter(({ outlier }) => outlier === 'pair')).toHaveLength(1);
    expect(scatter.pairs).toBe(10);
  });
});

describe('few pairs', () => {
  test('none', () => {
    const found = offset(asked([]));
    expect(!found.ok && found.why).toBe(
      'No pair yet. State what is known of their equipment, or its limits.',
    );
  });

  test('one event is refused, and with the scatter of other authorities it is not', () => {
    const pairs = pairsOf([[1, 1.2, 1.1]]);
    const alone = offset(asked(pairs));
    expect(!alone.ok && alone.why).toMatch(/One event says nothing/);
    const others = eventScatter([
      [0.3, 0.5],
      [0.9, 0.7],
      [0.1, 0.4],
    ]);
    const { prediction, mean } = known(asked(pairs, { poolWith: [others] }));
    expect(mean).toBeNull();
    expect(prediction.dof).toBe(2);
    // σ_b² + σ_w²/2 from the others, 1/3 of a pair's variance in our own event's mean: twice that.
    const sw2 = (3 * (others.within?.value ?? 0) + 2 * 0.01) / 5;
    expect(prediction.between).toBeCloseTo(2 * (others.between?.value ?? 0), 12);
    expect(prediction.within).toBeCloseTo((2 * (1 / 3 - 1 / 2) + 2 / 3) * sw2, 12);
  });

  test('two events are wide, and pooling makes them honestly less so', () => {
    const pairs = pairsOf([[1], [1.3]]);
    const others = eventScatter([[0], [0.3], [0.1], [0.4], [0.2], [0.25]]);
    const alone = known(asked(pairs));
    const together = known(asked(pairs, { poolWith: [others] }));
    expect(marginAt(alone.prediction, 0.01)).toBeGreaterThan(8);
    expect(marginAt(together.prediction, 0.01)).toBeLessThan(1);
    expect(together.poolAgrees).toBeGreaterThan(0.05);
  });

  test('pairs without scatter take the step of the display, or are refused', () => {
    const pairs = pairsOf([[1], [1], [1]]);
    const found = offset(asked(pairs));
    expect(!found.ok && found.why).toMatch(/Say the step of their display/);
    expect(known(asked(pairs, { theirStep: 0.5 })).prediction.between).toBeCloseTo(
      (4 / 3) * (0.25 / 12),
      12,
    );
  });
});

describe('bad input is named', () => {
  const pairs = pairsOf([[5, 5.2], [5.1], [4.9, 5.0], [5.05]]);

  test('swapped columns', () => {
    const { ours, theirs } = pairs[2] as Pair;
    const found = known(asked(with1(pairs, 2, { ours: theirs, theirs: ours })));
    expect(found.findings).toEqual([
      {
        pair: '1.0',
        sure: false,
        isSwapped: true,
        text: 'event 1, pair 0: ours and theirs look swapped; it would fit the others the other way round.',
      },
    ]);
    // Nothing is lost and nothing is turned round behind anybody's back.
    expect(found.used).toHaveLength(6);
    expect(known(asked(pairs)).findings).toEqual([]);
  });

  test('kg and lb, left out until they are put right', () => {
    const { theirs } = pairs[0] as Pair;
    const found = known(asked(with1(pairs, 0, { theirs: theirs / 0.45359237 })));
    expect(found.leftOut).toEqual([
      { pair: '0.0', why: 'event 0, pair 0: it looks as if theirs is in lb and ours in kg.' },
    ]);
    expect(found.used).toHaveLength(5);
  });

  test.each([
    ['length', 0.05, 50, 'theirs is in millimetres and ours in metres'],
    ['angle', -3.1, -184, 'theirs is in minutes and ours in degrees'],
    ['share', 0.475, 47.6, 'theirs is in percent and ours a fraction'],
  ] as const)('%s', (kind, ours, theirs, text) => {
    const one = with1(pairsOf([[0]]), 0, { ours, theirs });
    expect(offset(asked(one, { kind })).findings.map((found) => found.text)).toEqual([
      `event 0, pair 0: it looks as if ${text}.`,
    ]);
  });

  test('camber with opposite signs is asked about, and a missing reading is left out', () => {
    const camber = pairsOf([[0.001], [0.002], [0]], { ours: -0.05 });
    const wrong = with1(with1(camber, 0, { theirs: 0.05 }), 1, { theirs: NaN });
    const found = offset(asked(wrong, { kind: 'angle' }));
    expect(found.findings.map(({ sure }) => sure)).toEqual([true, false]);
    expect(found.findings.map(({ pair }) => pair)).toEqual(['1.0', '0.0']);
  });
});
