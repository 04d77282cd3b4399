import { expect, test } from 'vitest';
import { DEFAULT_SETTINGS } from '../../../core/contract/settings.ts';
import { sheetContent } from '../../../core/paper/sheet/sheetContent.ts';
import { sheetPaper } from '../../../core/paper/sheet/sheetPaper.ts';
import { BACK_TO_RUNNING } from '../../../core/sheet/backToRunning.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { EXAMPLE_SHEET } from '../../../core/sheet/exampleSheet.ts';
import { releaseSheet } from '../../../core/sheet/releaseSheet.ts';
import { sheetCsv } from '../../../core/sheet/sheetCsv.ts';
import {
  captureOf,
  freshRecord,
  LEVEL_WEIGHTS,
  read,
  RULE,
  sourcesOf,
  weighed,
  work,
} from '../sheet/sampleRecord.ts';

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');
const sources = sourcesOf(
  work(
    weighed(
      [
        ['height.LF', 0.0652],
        ['height.RF', 0.0662],
      ].reduce(
        (record, [item, value]) =>
          read(record, { item: item as string, value: value as number, gauge: RULE }),
        freshRecord(),
      ),
      'capture-1',
    ),
    'camber shim',
    { corner: 'LR' },
  ),
  [captureOf('capture-1', LEVEL_WEIGHTS)],
);
const about = {
  car: EXAMPLE_CAR,
  settings: DEFAULT_SETTINGS,
  sheet: EXAMPLE_SHEET,
  venueName: 'Larkfell',
  practice: true,
  created: 1_764_000_000_000,
};
const linesOf = (content: ReturnType<typeof sheetContent>) =>
  new Map(content.groups.flatMap(({ lines }) => lines).map((line) => [line.item, line]));

test('a sheet alone leaves room for a pencil beside every target', () => {
  const content = sheetContent({ ...about, sources: null });
  expect(content).toMatchObject({
    kind: 'Set-up sheet',
    title: 'Heron R2, Base set-up no. 1',
    stamp: 'practice',
  });
  expect(content.groups.map(({ heading }) => heading)).toEqual([
    'Weights',
    'Ride heights',
    'Camber',
    'Toe',
    'Caster and steering axis',
    'Masses on board',
  ]);
  const lines = linesOf(content);
  expect(lines.size).toBe(EXAMPLE_SHEET.lines.length);
  const toe = lines.get('LR toe');
  expect([toe?.target, toe?.tolerance, toe?.value]).toEqual(['6.0′', '1.2′', null]);
  expect(content.plan.corners.RF.lines.at(0)).toMatch(/to be 307\.5/);
  expect(sheetPaper(content).pages).toBe('one');
});

test('a record has its values, within and outside, and what is stale by work', () => {
  const content = sheetContent({ ...about, sources });
  const lines = linesOf(content);
  const of = (name: string) => {
    const line = lines.get(name);
    return [line?.value && plain(line.value as string), line?.verdict];
  };
  expect(of('left front floor')).toEqual(['65.2 mm', { text: 'stale', mark: 'open' }]);
  expect(of('LF')[1]).toEqual({ text: 'stale', mark: 'open' });
  expect(of('LF camber')).toEqual([null, '']);
  expect(content.plan.below).toMatch(/total 1305\.00?.kg, front % 47\.50/u);
  expect(content.plan.centre?.behindFront).toBeCloseTo(2.7 * 0.525, 3);
  const undisturbed = sheetContent({
    ...about,
    sources: {
      ...sources,
      record: { ...sources.record, entries: sources.record.entries.slice(0, 3) },
    },
  });
  const verdict = (name: string) => linesOf(undisturbed).get(name)?.verdict;
  expect(verdict('left front floor')).toEqual({ text: 'in', mark: 'good' });
  expect(verdict('right front floor')).toEqual({ text: 'out', mark: 'bad' });
});

test('a released sheet is printed and exported with what was built', () => {
  const outcome = releaseSheet(EXAMPLE_SHEET, {
    sources,
    answers: Object.fromEntries(BACK_TO_RUNNING.map((item) => [item, 'done'])),
    at: 1_764_000_100_000,
    who: 'crew chief',
  });
  if (!outcome.ok) throw new Error(outcome.why);
  const content = sheetContent({ ...about, sheet: outcome.sheet, sources: null });
  expect(content.ticks.items.every(({ ticked }) => ticked)).toBe(true);
  expect(plain(linesOf(content).get('total')?.value as string)).toMatch(/^1305\.0/);
  const rows = sheetCsv(outcome.sheet, EXAMPLE_CAR).split('\r\n');
  expect(rows[0]).toBe('item,label,unit,target,tolerance,as built,u,stale');
  expect(rows.find((row) => row.startsWith('toe.LF'))).toBe('toe.LF,left front toe,′,-3,1.2,,,');
  expect(rows.find((row) => row.startsWith('height.RF'))).toMatch(
    /^height\.RF,ride height right front floor,mm,65,0\.5,66\.2,0\.36\d*,yes$/,
  );
});
