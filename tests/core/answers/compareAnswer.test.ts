import { describe, expect, test } from 'vitest';
import { compareAnswer, type Compared } from '../../../core/answers/compareAnswer.ts';
import { causeId, MOST, type CauseWhat } from '../../../core/compare/causes/cause.ts';
import type { Causes, RankedClass, SizedCause } from '../../../core/compare/causes/causes.ts';
import { causeWords } from '../../../core/compare/causes/causeWords.ts';
import type { Comparison, JudgedItem } from '../../../core/compare/compareItems.ts';
import type { Verdict } from '../../../core/compare/verdict.ts';
import { measured } from '../../../core/measured.ts';

const WORDING = { labels: 'LF RF LR RR', massUnit: 'kg' } as const;

const item = (id: string, verdict: Verdict, readings: number | null = null): JudgedItem => ({
  id,
  verdict,
  before: 0,
  after: 1,
  change: measured(1, 0.1, 10),
  takenOut: 0,
  limit: 0.5,
  limitAsked: 0.5,
  interval: [0.8, 1.2],
  tail: 0.001,
  independent: true,
  readings,
});

const comparison = (items: readonly JudgedItem[], more: Partial<Comparison> = {}): Comparison => ({
  items,
  notCompared: [],
  independent: items.length,
  takenOut: [],
  joint: { ids: [], change: [], covariance: [], dof: [] },
  ...more,
});

const sized = (what: CauseWhat, size: number, u: number): SizedCause => ({
  cause: { what, signature: [], byRates: [], most: MOST[what.kind], expected: null },
  size: measured(size, u, 20),
});

const ranked = (members: readonly SizedCause[], isTied = true): RankedClass => ({
  members,
  misfit: 0,
  share: 0.97,
  isTied,
});

const found = (
  answer: Causes['answer'],
  classes: readonly RankedClass[],
  more: Partial<Causes> = {},
): Causes => ({
  answer,
  classes,
  pairs: [],
  nothingTail: 1e-6,
  singleTail: 0.4,
  unseen: [],
  ...more,
});

/** Hard spaces made plain, so that texts can be read here. */
const plain = (text: string): string => text.replaceAll('\u00A0', ' ');

const say = (about: Partial<Compared> & Pick<Compared, 'comparison'>) => {
  const { text, tone, why } = compareAnswer({
    causes: null,
    notTakenOut: [],
    lacking: null,
    isCommonScatter: false,
    wording: WORDING,
    itemName: (id) => id,
    ...about,
  });
  return { text: plain(text), tone, why: why.map(plain) };
};

const STRUT = sized({ kind: 'strut', corner: 'RF' }, -0.0012, 0.0001);
const PAD_HEIGHT = sized({ kind: 'pad height', corner: 'RF' }, -0.0012, 0.0001);
const WHEEL = sized({ kind: 'wheel', corner: 'RF' }, -0.0012, 0.0001);
const PAD = sized({ kind: 'pad', corner: 'RR' }, 2.13, 0.2);
const FUEL = sized(
  { kind: 'mass', place: { kind: 'fuel', name: 'tank', x: -1.7, y: 0 } },
  -3.1,
  0.3,
);
const LINK = sized({ kind: 'toe link', corner: 'LR' }, 0.004, 0.0004);

const MOVED = comparison([item('cross %', 'moved'), item('RF', 'same')]);

test('weights judged by common limits are said to be, in the line and in the details', () => {
  const weighed = comparison([item('weight.LF', 'same')]);
  const { text, why } = say({ comparison: weighed, isCommonScatter: true });
  expect(text).toMatch(/^Same\..*common limits, not by a study of this car\.$/);
  expect(why.join(' ')).toContain('common limits of lowering (±2 kg along the diagonals');
  expect(say({ comparison: weighed }).text).not.toContain('common');
  expect(say({ comparison: MOVED, isCommonScatter: true }).text).not.toContain('common');
});

test('what was done on purpose and is still in the changes is said', () => {
  expect(say({ comparison: MOVED, notTakenOut: ['left front spring: not known'] }).why).toContain(
    'Done on purpose and not taken out: left front spring: not known.',
  );
});

describe('the line', () => {
  test('nothing to compare', () => {
    expect(say({ comparison: comparison([]) })).toMatchObject({
      tone: 'wait',
      text: 'Nothing can be compared yet: no item is in both records with a known repeatability.',
    });
  });

  test('same', () => {
    expect(
      say({
        comparison: comparison([item('a', 'same'), item('b', 'same')]),
        causes: found('nothing moved', [ranked([STRUT])]),
      }),
    ).toMatchObject({ tone: 'calm', text: 'Same. All 2 items are within their limits.' });
    expect(say({ comparison: comparison([item('a', 'same')]) }).text).toBe(
      'Same. The one item is within its limit.',
    );
  });

  test('cannot tell, and what would', () => {
    const some = comparison([item('toe LF', 'cannot tell', 4), item('toe RF', 'cannot tell')]);
    expect(say({ comparison: some })).toMatchObject({
      tone: 'wait',
      text: 'Cannot tell yet: toe LF and toe RF. 4 readings of the car now would tell some of them.',
    });
    expect(say({ comparison: comparison([item('toe LF', 'cannot tell')]) }).text).toBe(
      'Cannot tell yet: toe LF. More readings would not tell: the earlier record or the patch limits it.',
    );
  });

  test('items alone cannot be told, but the pattern is that of an unchanged car', () => {
    const open = comparison([item('toe LF', 'cannot tell', 4), item('RF', 'same')]);
    expect(say({ comparison: open, causes: found('nothing moved', []) })).toMatchObject({
      tone: 'wait',
      text: 'Nothing moved that the whole pattern would show. Alone cannot be told: toe LF. 4 readings of the car now would tell.',
    });
  });

  test('a cause of the car', () => {
    expect(
      say({
        comparison: MOVED,
        causes: found('single cause', [ranked([STRUT]), ranked([FUEL], false)]),
      }),
    ).toMatchObject({
      tone: 'alarm',
      text: 'Moved. RF seat, spring or damper, about 1.2 mm down: count the threads.',
    });
  });

  test('a cause that the patch or a wheel could be: they come first', () => {
    expect(
      say({
        comparison: MOVED,
        causes: found('single cause', [ranked([STRUT, PAD_HEIGHT, WHEEL])]),
      }).text,
    ).toBe(
      'Moved. First rule out the height of the RF pad or RF set-up wheel, about 1.2 mm lower: survey the patch again. Else RF seat, spring or damper, about 1.2 mm down: count the threads.',
    );
  });

  test('a pad and not the car', () => {
    expect(say({ comparison: MOVED, causes: found('single cause', [ranked([PAD])]) }).text).toBe(
      'Moved. Pads and patch before the car: zero or span of the RR pad, about 2.1 kg too much. Raise the car and read the zero, then swap pads RR and LR.',
    );
  });

  test('a tied set: what is not the car first', () => {
    expect(
      say({
        comparison: MOVED,
        causes: found('single cause', [ranked([FUEL]), ranked([PAD]), ranked([LINK], false)]),
      }).text,
    ).toBe(
      'Moved. Zero or span of the RR pad, about 2.1 kg too much; or fuel, about 3.1 kg less: these measurements cannot tell. First raise the car and read the zero.',
    );
  });

  test('two causes', () => {
    const pair = { causes: [STRUT, LINK], of: [0, 1], misfit: 0, share: 1 } as const;
    expect(
      say({
        comparison: MOVED,
        causes: found('two causes', [ranked([WHEEL, STRUT]), ranked([LINK])], { pairs: [pair] }),
      }).text,
    ).toBe(
      'Moved. Two causes: RF seat, spring or damper or RF set-up wheel, about 1.2 mm down; and LR toe link, about 0.23° in. Count the threads and look at the link and its locknuts.',
    );
  });

  test('no single cause, with and without pairs', () => {
    const pair = (one: SizedCause, other: SizedCause) =>
      ({
        causes: [one, other],
        of: [one === STRUT ? 0 : 2, 1],
        misfit: 0,
        share: 1,
      }) as const;
    expect(
      say({ comparison: MOVED, causes: found('no single cause', [ranked([STRUT])]) }).text,
    ).toBe('Moved. No single cause explains it, nor do two. Measure again what moved most.');
    expect(
      say({
        comparison: MOVED,
        causes: found('no single cause', [ranked([STRUT]), ranked([LINK]), ranked([FUEL])], {
          pairs: [pair(STRUT, LINK), pair(FUEL, LINK)],
        }),
      }).text,
    ).toBe(
      'Moved. No single cause explains it. Two would: RF seat, spring or damper with LR toe link; or fuel with LR toe link.',
    );
  });

  test('a pattern within all limits, and items that moved without a pattern', () => {
    expect(
      say({
        comparison: comparison([item('RF', 'same')]),
        causes: found('single cause', [ranked([STRUT])]),
      }),
    ).toMatchObject({
      tone: 'wait',
      text: 'No item is past its limit, but something changed. RF seat, spring or damper, about 1.2 mm down: count the threads.',
    });
    const four = comparison(['a', 'b', 'c', 'd'].map((id) => item(id, 'moved')));
    expect(say({ comparison: four, lacking: 'Weigh the car in both.' }).text).toBe(
      'Moved: a, b and 2 more. No cause can be named. Weigh the car in both.',
    );
    expect(say({ comparison: MOVED, causes: found('nothing moved', []) }).text).toBe(
      'Moved: cross %. No pattern of a cause stands out.',
    );
  });
});

test('why: causes with their size and check, verdicts, what was taken out and left out', () => {
  const { why } = say({
    comparison: comparison([item('cross %', 'moved'), item('RF', 'same')], {
      takenOut: ['LF up ½ turn'],
      notCompared: [{ id: 'toe LF', before: 0, after: null, why: 'Not measured in both records.' }],
    }),
    causes: found('single cause', [ranked([STRUT])]),
  });
  expect(why).toEqual([
    'RF seat, spring or damper, about 1.2 mm down, ±0.10 mm (one standard uncertainty): explains 97 %. To confirm: count the threads, then measure the spring’s free length and settle again.',
    'Moved: cross %.',
    'Same: RF.',
    'By chance alone so large a change comes in less than 0.1 % of unchanged cars.',
    'Were the best single cause all, so large a rest would come in 40.0 %.',
    'Taken out before judging: LF up ½ turn.',
    'toe LF is not compared. Not measured in both records.',
  ]);
});

const EVERY: readonly CauseWhat[] = [
  { kind: 'strut', corner: 'LF' },
  { kind: 'pad height', corner: 'LF' },
  { kind: 'wheel', corner: 'LF' },
  { kind: 'pad', corner: 'LF' },
  { kind: 'toe link', corner: 'LF' },
  { kind: 'camber shim', corner: 'LF' },
  { kind: 'bar', axle: 'front' },
  { kind: 'twist' },
  { kind: 'mass along' },
  { kind: 'mass across' },
  { kind: 'mass', place: { kind: 'ballast', name: 'nose', x: 0, y: 0 } },
  { kind: 'mass', place: { kind: 'driver', name: 'seat', x: 0, y: 0 } },
  {
    kind: 'ballast moved',
    from: { kind: 'ballast', name: 'nose', x: 0, y: 0 },
    to: { kind: 'ballast', name: 'boot', x: 0, y: 0 },
  },
  { kind: 'wheels exchanged', one: 'LF', other: 'RR' },
  { kind: 'height point', item: 'height LF', name: 'left sill' },
];

test('every cause has words, a size that tells its sign, and an id of its own', () => {
  const size = (what: CauseWhat, value: number) =>
    causeWords(what, measured(value, Math.abs(value) / 20, 10), {
      labels: 'FL FR RL RR',
      massUnit: 'lb',
    });
  expect(new Set(EVERY.map(causeId)).size).toBe(EVERY.length);
  for (const what of EVERY) {
    const { name, confirm, size: more } = size(what, MOST[what.kind] / 10);
    expect(name).toMatch(/^[A-Z]/u);
    expect(name).not.toMatch(/^LF |\bthe LF\b/u);
    expect(confirm.length).toBeGreaterThan(8);
    if (what.kind !== 'wheels exchanged') {
      expect(more).toMatch(/^about \d/u);
      expect(size(what, -MOST[what.kind] / 10).size).not.toBe(more);
    }
  }
  expect(size({ kind: 'pad', corner: 'LF' }, 0.45359237).size).toMatch(
    /^about 1\.00\slb too much$/u,
  );
});
