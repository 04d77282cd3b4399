import { describe, expect, test } from 'vitest';
import { transferReference } from '../../../core/calibration/transfer.ts';
import { calibrate } from '../../../core/calibration/calibrate.ts';
import { calibrationOf, ratingRecord } from '../../../core/calibration/useRecord.ts';
import { calibrationPaper } from '../../../core/paper/calibration/calibrationPaper.ts';
import { measured } from '../../../core/measured.ts';
import { GRAVITY, input, RATING, SOUND, take, UP_AND_DOWN } from '../calibration/simulatedPad.ts';
import { bentRecord, reasonedRecord, soundRecord } from './exampleRecords.ts';
import { blocksOf, paperTexts } from './paperWords.ts';

describe('a sound pad', () => {
  const record = soundRecord();
  const paper = calibrationPaper(record);
  const text = paperTexts(paper).join('\n');

  test('says what, where, when and with what', () => {
    expect(paper).toMatchObject({
      kind: 'Calibration with reference masses',
      title: 'Pad P-1',
      stamp: null,
      created: record.madeAt,
    });
    for (const part of [
      '500 kg at 4194304 counts',
      '14 Nov 2023, 22:13 UTC',
      'Larkfell, g = 9.810000 m/s², which is in the span',
      '1, a straight line',
      'class M1 (OIML R 111)',
      'Errors within class III limits at e = 0.1\u00A0kg, first verification. Not seen: creep.',
      'For use: nothing was found that refuses it.',
      'not a certificate of an accredited laboratory',
    ])
      expect(text).toContain(part);
  });

  test('has the coefficients to the last digit', () => {
    for (const each of [...(record.fit?.coefficients ?? []), ...(record.coefficients ?? [])])
      expect(text.replaceAll('−', '-')).toContain(each.toExponential());
  });

  test('draws every point of the fit, by side, and a limit that steps where the class does', () => {
    const [residuals, errors] = blocksOf(paper.blocks, 'plot');
    const counts = (residuals?.series ?? []).map(({ name, paths }) => [name, paths[0]?.length]);
    expect(counts).toEqual([
      ['rising', 12],
      ['falling', 10],
      ['95 % of new readings', 241],
    ]);
    const residual = residuals?.series[0]?.paths[0]?.[1];
    expect(residual?.[0]).toBeCloseTo(60, 9);
    expect(residual?.[1]).toBeCloseTo((record.results[1]?.residual ?? NaN) / GRAVITY, 12);
    // R 76-1, table 6, class III: ±0.5 e to 500 e, ±1 e to 2000 e, ±1.5 e beyond; e = 0.1 kg.
    const limits = errors?.series.find(({ name }) => name === 'limits')?.paths[0] ?? [];
    expect(new Set(limits.map(([, limit]) => limit.toFixed(9)))).toEqual(
      new Set(['0.050000000', '0.100000000', '0.150000000']),
    );
    for (const [load, limit] of limits)
      expect(limit).toBeCloseTo(load <= 50 ? 0.05 : load <= 200 ? 0.1 : 0.15, 12);
  });
});

describe('a pad of the practice rig that bends, with points left out', () => {
  const record = bentRecord();
  const paper = calibrationPaper(record);
  const text = paperTexts(paper).join('\n');

  test('is marked across the page', () => {
    expect(paper.stamp).toBe('practice');
    expect(text).toContain('the practice rig: simulated, no real pad');
  });

  test('says of each point whether it was used, and which were undone', () => {
    const table = blocksOf(paper.blocks, 'table').find(
      ({ columns }) => columns.at(-1)?.head === 'Used',
    );
    expect(table?.rows).toHaveLength(record.results.length);
    expect(text).toContain('read again, for creep');
    expect(text).toContain('of another pad');
    expect(text).toContain('Undone while taking, and not shown: point 15.');
  });

  test('has the whole covariance of a parabola', () => {
    expect(record.fit?.degree).toBe(2);
    const table = blocksOf(paper.blocks, 'table').find(({ columns }) => columns[0]?.head === 'k');
    expect(table?.rows.map((row) => ('group' in row ? 0 : row.length))).toEqual([5, 5]);
  });
});

describe('a calibration that is refused', () => {
  test('with a reason: the reason and what was found stand beside its use', () => {
    const record = reasonedRecord();
    const paper = calibrationPaper(record);
    const text = paperTexts(paper).join('\n');
    expect(paper.stamp).toBeNull();
    expect(text).toContain(`Reason written: “${record.inSpiteOf ?? ''}”`);
    for (const { what, why, next } of record.findings)
      for (const words of [what, why, next]) expect(text).toContain(words);
    expect(text).toContain('masses left out: at least this');
  });

  test('without one it is marked across the page', () => {
    const paper = calibrationPaper({ ...reasonedRecord(), inSpiteOf: null });
    expect(paper.stamp).toBe('not for use');
    expect(paperTexts(paper).join('\n')).toContain('Not for use. Two loads were placed');
  });

  test('with too few points for any curve', () => {
    const record = calibrate(input(take(SOUND, [0, 5])));
    const paper = calibrationPaper(record);
    expect(record.fit).toBeNull();
    expect(paper.stamp).toBe('not for use');
    expect(blocksOf(paper.blocks, 'plot')).toEqual([]);
    expect(paperTexts(paper).join('\n')).toContain('No curve can be fitted yet.');
  });
});

test('a pad in series is named with its calibration, and no gravity is in the span', () => {
  const calibration = calibrationOf(soundRecord());
  const reference = calibration && transferReference({ serial: 'P-9', calibration, of: 'P-1' });
  if (!reference?.ok) throw new Error('no reference');
  const points = take(SOUND, [...UP_AND_DOWN, ...UP_AND_DOWN]).map((point) => ({
    ...point,
    massIds: [],
    reference: measured(20 * GRAVITY * point.massIds.length, 0.05, 30),
  }));
  const paper = calibrationPaper(
    calibrate({ ...input(points), masses: null, reference: reference.reference }),
  );
  const text = paperTexts(paper).join('\n');
  expect(paper.kind).toBe('Calibration against a pad in series');
  expect(text).toContain('P-9, by its calibration c1');
  expect(text).toContain('(no gravity is in the span)');
});

test('a span by the maker’s rating says that it is not calibrated', () => {
  const paper = calibrationPaper(
    ratingRecord(
      { ...RATING, resolution: 1 },
      {
        id: 'c2',
        replaces: 'c1',
        padSerial: 'P-1',
        madeAt: 0,
        practice: false,
        place: { venueId: null, name: 'Larkfell', gravity: GRAVITY },
      },
    ),
  );
  expect(paper.kind).toBe('Span by the maker’s rating: not calibrated');
  expect(paperTexts(paper).join('\n')).toContain('nothing is known of its error');
});
