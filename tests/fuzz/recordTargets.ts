import { requestSchema } from '../../core/contract/messages.ts';
import { CORNERS } from '../../core/corners.ts';
import { EXAMPLE_CAR } from '../../core/sheet/car.ts';
import { EXAMPLE_CAR_STATE } from '../../core/sheet/carState.ts';
import { EXAMPLE_SHEET } from '../../core/sheet/exampleSheet.ts';
import { readRecordsFile } from '../../core/sheet/readRecordsFile.ts';
import { recordCsv } from '../../core/sheet/recordCsv.ts';
import { NO_RECORDS, writeRecordsFile, type Records } from '../../core/sheet/recordsFile.ts';
import { sheetCsv } from '../../core/sheet/sheetCsv.ts';
import { createGate } from '../../electron/gate.ts';
import {
  captureOf,
  freshRecord,
  LEVEL_WEIGHTS,
  read,
  RULE,
  sourcesOf,
  weighed,
  work,
} from '../core/sheet/sampleRecord.ts';
import { changeJson } from './changeJson.ts';
import { must, type Target } from './target.ts';

/** What comes as JSON from a file or a screen: what is accepted is accepted again as the same. */

const CAPTURE = captureOf('capture-1', LEVEL_WEIGHTS);
const RECORD = work(
  read(weighed(freshRecord(), CAPTURE.id), {
    item: 'height.LF',
    value: 0.095,
    gauge: RULE,
    datum: 'pad',
  }),
  'toe link',
  { corner: 'LR', amount: 0.001 },
);
const ALL: Records = {
  cars: [EXAMPLE_CAR],
  sheets: [EXAMPLE_SHEET],
  records: [RECORD],
  captures: [CAPTURE],
};

/** Every number is one, every uncertainty is not negative; only degrees of freedom may be infinite. */
const lookAtNumbers = (value: unknown, key: string): void => {
  if (typeof value === 'number') {
    must(Number.isFinite(value) || (key === 'dof' && value === Infinity), `${key} is no number`);
    if (key === 'u' || key === 'tolerance') must(value >= 0, `${key} below zero`);
    if (key === 'dof' || key === 'gravity') must(value > 0, `${key} not above zero`);
  } else if (typeof value === 'object' && value !== null)
    for (const [name, each] of Object.entries(value))
      lookAtNumbers(each, Array.isArray(value) ? key : name);
};

/** Accepted data is little more than its text: defaults are all that may be added. */
const lookAtSize = (accepted: string, text: string): void =>
  must(accepted.length <= 4 * text.length + 8192, 'far more was accepted than was there');

const recordsFile: Target<string> = {
  name: 'records file',
  kind: 'text',
  files: [
    'readRecordsFile',
    'filePlausible',
    'fileProblems',
    'impossibleValue',
    'mixedUp',
    'contradictions',
    'items',
    'itemValue',
    'recordCsv',
    'sheetCsv',
  ].map((name) => `core/sheet/${name}.ts`),
  seeds: [
    JSON.stringify(JSON.parse(writeRecordsFile(ALL, 0))),
    JSON.stringify(
      JSON.parse(writeRecordsFile({ ...NO_RECORDS, cars: [EXAMPLE_CAR], captures: [CAPTURE] }, 0)),
    ),
    JSON.stringify(
      JSON.parse(
        writeRecordsFile(
          {
            ...NO_RECORDS,
            cars: [EXAMPLE_CAR],
            records: [
              {
                ...RECORD,
                sheetId: null,
                entries: RECORD.entries.filter(({ is }) => is !== 'capture'),
              },
            ],
          },
          0,
        ),
      ),
    ),
    JSON.stringify(
      JSON.parse(writeRecordsFile({ ...NO_RECORDS, cars: [{ ...EXAMPLE_CAR, details: null }] }, 0)),
    ),
  ],
  longest: 100_000,
  change: changeJson,
  run: (text) => {
    const found = readRecordsFile(text, NO_RECORDS);
    if (!found.ok) {
      must(found.why !== '', 'refused without a word');
      return false;
    }
    must(
      found.refused.every(({ why }) => why !== ''),
      'a part refused without a word',
    );
    const { accepted } = found;
    lookAtNumbers(accepted, '');
    const written = writeRecordsFile(accepted, 0);
    lookAtSize(JSON.stringify(JSON.parse(written)), text);
    const again = readRecordsFile(written, NO_RECORDS);
    must(again.ok && again.refused.length === 0, 'written again it is refused');
    must(
      again.ok && writeRecordsFile(again.accepted, 0) === written,
      'written again it is another',
    );
    for (const capture of accepted.captures)
      for (const corner of CORNERS)
        must(capture.corners[corner].samples > 0, 'a corner without samples');
    for (const sheet of accepted.sheets) {
      const car = accepted.cars.find(({ id }) => id === sheet.carId);
      must(car !== undefined, 'a sheet without its car');
      for (const { item, target } of sheet.lines)
        must(
          !/^(?:weight\.|total$)/.test(item) || target === null || target >= 0,
          'a target below zero',
        );
      if (car) sheetCsv(sheet, car);
    }
    for (const record of accepted.records) {
      const car = accepted.cars.find(({ id }) => id === record.carId);
      const sheet = accepted.sheets.find(({ id }) => id === record.sheetId) ?? null;
      must(car !== undefined, 'a record without its car');
      if (car) recordCsv(sourcesOf(record, accepted.captures, { car }), sheet);
    }
    return Object.values(accepted).some(({ length }) => length > 0);
  },
};

const head = { id: 'k1', subject: 's1', at: 0, practice: true };
const COMMANDS: readonly object[] = [
  { do: 'choose pads', source: 'rig' },
  { do: 'assign pad', serial: 'MP-1', corner: 'LF' },
  { do: 'set rate', serial: 'MP-1', rate: 80 },
  { do: 'capture', phase: 'set-up', note: '', isEarly: true },
  { do: 'set aside', id: 'c1', aside: true },
  { do: 'set car state', state: EXAMPLE_CAR_STATE },
  { do: 'use car', car: EXAMPLE_CAR },
  { do: 'begin outing', name: 'Larkfell' },
  { do: 'turn practice perch', corner: 'RR', turns: -1.5 },
  {
    do: 'begin calibration',
    padSerial: 'MP-1',
    massSetId: null,
    referenceSerial: 'MP-2',
    against: null,
  },
  { do: 'take point', massIds: ['m1', 'm2'], isEmpty: false, isReadAgain: false },
  { do: 'recompute', captureId: 'c1', calibrations: { LF: 'x', RF: null, LR: null, RR: null } },
  { do: 'put practice masses', padSerial: 'MP-1', mass: 20, place: 'middle', distance: 0 },
  { do: 'read practice staff', points: [{ x: 0.1, y: -2 }], sights: 3 },
  { do: 'press practice stack', stack: { upper: 'a', lower: 'b', force: 2000 } },
  { do: 'try pad description', text: '{}', hex: '00 01', padSerial: null },
  { do: 'keep', record: { kind: 'sheet', ...head, sheet: EXAMPLE_SHEET } },
  { do: 'keep', record: { kind: 'car record', ...head, record: RECORD } },
  { do: 'keep', record: { kind: 'capture read in', ...head, capture: CAPTURE } },
  { do: 'open kept', kind: 'mass set', subject: null },
  { do: 'open captures', ids: ['c1', 'c2'] },
];

const contract: Target<string> = {
  name: 'screen messages',
  kind: 'text',
  files: [
    'electron/gate.ts',
    ...['commands', 'messages', 'kept', 'records'].map((name) => `core/contract/${name}.ts`),
    ...['carRecord', 'setUpSheet', 'carDetails', 'dof'].map((name) => `core/sheet/${name}.ts`),
  ],
  seeds: [
    { kind: 'hello', version: 1 },
    { kind: 'frame taken', no: 3 },
    { kind: 'visible', visible: false },
    ...COMMANDS.map((command, n) => ({ kind: 'command', n, command })),
  ].map((message) => JSON.stringify(message)),
  longest: 70_000,
  change: changeJson,
  run: (text) => {
    const gate = createGate(() => {});
    const admitted = gate.admit('screen text', { is: 'screen' }, text);
    if (!admitted.ok) {
      must(admitted.why !== '', 'refused without a word');
      return false;
    }
    const parsed = requestSchema.safeParse(JSON.parse(admitted.payload));
    if (!parsed.success) return false;
    lookAtNumbers(parsed.data, '');
    const written = JSON.stringify(parsed.data);
    lookAtSize(written, text);
    const again = requestSchema.safeParse(JSON.parse(written));
    must(again.success && JSON.stringify(again.data) === written, 'sent again it is another');
    return true;
  },
};

export const RECORD_TARGETS: readonly Target<string>[] = [recordsFile, contract];
