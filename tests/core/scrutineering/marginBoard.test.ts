import { describe, expect, test } from 'vitest';
import { chanceShown, scrutineeringAnswer } from '../../../core/answers/scrutineeringAnswer.ts';
import { marginBoard, type LimitedItem } from '../../../core/scrutineering/marginBoard.ts';
import type { Prediction } from '../../../core/scrutineering/prediction.ts';
import { near } from './near.ts';

const sure = (shift: number, u: number, limit = 0): Prediction => ({
  shift,
  between: u ** 2,
  dof: Infinity,
  within: 0,
  limit,
});
const item = (change: Partial<LimitedItem>): LimitedItem => ({
  id: 'total',
  name: 'Total',
  kind: 'total',
  limit: { low: 1300, high: null },
  ours: 1301,
  prediction: sure(0, 0.4),
  whyNone: null,
  ...change,
});
const camber = (change: Partial<LimitedItem> = {}): LimitedItem =>
  item({
    id: 'camber LF',
    name: 'Camber LF',
    kind: 'angle',
    limit: { low: -0.0611, high: null },
    ours: -0.059,
    prediction: sure(-0.0002, 0.0008),
    ...change,
  });

describe('margin board', () => {
  const board = marginBoard(
    [
      item({}),
      camber(),
      item({ id: 'height', name: 'Height', kind: 'length', prediction: null, whyNone: 'No pair.' }),
      item({ id: 'toe', name: 'Toe', limit: { low: null, high: null } }),
    ],
    0.95,
  );

  test('what fails stands before what is not known', () => {
    const rows = marginBoard(
      [
        item({ id: 'unknown', prediction: null, whyNone: 'No pair.' }),
        item({ id: 'heavy', limit: { low: null, high: 1290 } }),
        item({ id: 'good' }),
      ],
      0.95,
    );
    expect(rows.map(({ item: { id } }) => id)).toEqual(['heavy', 'unknown', 'good']);
  });

  test('worst first, what is not known before what may pass', () => {
    expect(board.map(({ item: { id }, verdict }) => [id, verdict])).toEqual([
      ['height', 'unknown'],
      ['toe', 'unknown'],
      ['camber LF', 'passes'],
      ['total', 'passes'],
    ]);
  });

  test('each with limit, reading, prediction, chance and margin', () => {
    expect(board.at(-1)).toMatchObject({
      // Normal tail beyond 2.5 standard deviations: 0.00621.
      probability: near(1 - 0.0062097, 6),
      theirs: { value: 1301, low: near(1301 - 1.96 * 0.4, 3) },
      margin: near(1, 9),
      spare: near(1 - 1.64485 * 0.4, 4),
      isAtLeast: false,
    });
    expect(board[0]).toMatchObject({ probability: null, margin: null, why: 'No pair.' });
  });

  test('of two limits the nearer one is the margin', () => {
    const [row] = marginBoard([item({ limit: { low: 1290, high: 1302 } })], 0.95);
    expect(row?.margin).toBeCloseTo(1, 9);
  });
});

describe('will it pass?', () => {
  const answer = (items: readonly LimitedItem[], wished = 0.95) =>
    scrutineeringAnswer(marginBoard(items, wished));

  test('all as sure as wished: the total, and the tight one', () => {
    const { text, tone } = answer([item({ ours: 1300.964 }), camber()]);
    expect(text).toBe('Total passes with 99.2\u00a0%. Camber LF is the tight one.');
    expect(tone).toBe('calm');
  });

  test('the total itself', () => {
    expect(answer([item({ ours: 1300.2 }), camber()]).text).toBe(
      'Total passes with 69\u00a0%, less than wished.',
    );
  });

  test('another item is less sure than wished', () => {
    expect(answer([item({}), camber({ ours: -0.0602 })])).toMatchObject({
      text: 'Total passes with 99.3\u00a0%. Camber LF passes with 80\u00a0%, less than wished.',
      tone: 'wait',
    });
  });

  test('fails', () => {
    expect(answer([item({ ours: 1299.5 }), camber()])).toMatchObject({
      text: 'Total will probably fail, passes with 10\u00a0%.',
      tone: 'alarm',
    });
    expect(answer([item({ ours: 1299.5 }), camber({ ours: -0.07 })]).text).toBe(
      'Camber LF and Total will probably fail.',
    );
  });

  test('what is not known is said, never passed over', () => {
    expect(answer([item({}), camber({ ours: null })])).toMatchObject({
      text: 'Total passes with 99.3\u00a0%. Not known: Camber LF. We have not read it.',
      tone: 'wait',
    });
    expect(answer([camber({ ours: null }), item({ ours: null })]).text).toBe(
      'Not known: Camber LF and Total.',
    );
    expect(answer([]).tone).toBe('wait');
  });

  test('with limits of error the chance is at least that', () => {
    expect(answer([item({ ours: 1302, prediction: sure(0, 0.4, 1) })]).text).toBe(
      'Total passes with at least 99.3\u00a0%.',
    );
  });

  test('nor is a chance at its worst', () => {
    const atWorst = (ours: number): string =>
      answer([item({ ours, prediction: sure(0, 0.4, 1) })]).text;
    expect(atWorst(1310)).toBe('Total passes with more than 99.99\u00a0%.');
    expect(atWorst(1295)).toContain('passes with at least 0\u00a0%');
  });

  test('many that are not known are counted', () => {
    const unread = ['a', 'b', 'c', 'd'].map((id) => item({ id, name: id, ours: null }));
    expect(answer(unread).text).toBe('Not known: 4 items, see the board.');
  });

  test('chances are never rounded up to certainty', () => {
    expect([0.99996, 0.99985, 0.9929, 0.9999, 0.5, 0.0004].map(chanceShown)).toEqual(
      [
        'more than 99.99 %',
        '99.98 %',
        '99.2 %',
        'more than 99.99 %',
        '50 %',
        'less than 0.1 %',
      ].map((text) => text.replace(/ %$/, '\u00a0%')),
    );
  });
});
