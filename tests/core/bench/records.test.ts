import { expect, onTestFinished, test } from 'vitest';
import { keptSchema, type Kept } from '../../../core/contract/kept.ts';
import type { PrintForm, PrintWhat } from '../../../core/contract/print.ts';
import type { ToKeep } from '../../../core/bench/keptBook.ts';
import { EXAMPLE_SHEET } from '../../../core/sheet/exampleSheet.ts';
import { RefusedError } from '../../support/benchScreen.ts';
import { startPracticeBench } from '../../support/practiceBench.ts';
import { temporaryFolder } from '../../support/temporaryFolder.ts';
import {
  captureOf,
  freshRecord,
  LEVEL_WEIGHTS,
  read,
  RULE,
  weighed,
} from '../sheet/sampleRecord.ts';

/** Sheets and records that screens keep are printed by the bench, captures of a file among them. */

/** As a screen sends it: through JSON, which has no infinity. */
const asSent = (record: ToKeep): Kept =>
  keptSchema.parse(JSON.parse(JSON.stringify({ ...record, id: 'x', at: 0, practice: false })));

const record = weighed(
  read(freshRecord(), { item: 'height.LF', value: 0.0652, gauge: RULE }),
  'capture-of-file',
);

const start = () => {
  const started = startPracticeBench({ dir: temporaryFolder(), source: 'rig' });
  onTestFinished(() => started.stop());
  const { screen, settle } = started;
  const keep = (each: ToKeep) => screen.command({ do: 'keep', record: asSent(each) });
  const print = async (what: PrintWhat, form: PrintForm) => {
    const printed = await settle(screen.command({ do: 'print', what, form }));
    if (printed.is !== 'printed') throw new Error(printed.is);
    return printed;
  };
  return { screen, keep, print };
};

test('a record is printed with its sheet, its readings and a capture that came with a file', async () => {
  const { screen, keep, print } = start();
  await keep({ kind: 'sheet', subject: EXAMPLE_SHEET.lineageId, sheet: EXAMPLE_SHEET });
  await keep({
    kind: 'capture read in',
    subject: 'capture-of-file',
    capture: captureOf('capture-of-file', LEVEL_WEIGHTS),
  });
  for (const entry of record.entries)
    await keep({ kind: 'record entry', subject: record.id, entry, gauge: RULE });
  await keep({ kind: 'car record', subject: record.id, record: { ...record, entries: [] } });

  const opened = await screen.command({ do: 'open captures', ids: ['capture-of-file'] });
  expect(opened).toMatchObject({ captures: [{ id: 'capture-of-file' }] });

  const what = { is: 'record', recordId: record.id } as const;
  const csv = await print(what, 'csv');
  expect(csv.name).toMatch(/^set-up-Heron-R2-Base-set-up-no-1-2025-11-24T/);
  if (csv.content.is !== 'text') throw new Error('no text');
  const row = (item: string) =>
    csv.content.is === 'text' &&
    csv.content.text.split('\r\n').find((line) => line.startsWith(`value,${item},`));
  expect(row('height.LF')).toMatch(/,65\.2,mm,/);
  expect(row('weight.LF')).toMatch(/,312\.411,kg,/);

  const pdf = await print(what, 'pdf');
  expect(pdf.content.is === 'bytes' && atob(pdf.content.base64).slice(0, 5)).toBe('%PDF-');
});

test('a sheet is printed by its version; one that is not there is refused', async () => {
  const { keep, print } = start();
  const { lineageId } = EXAMPLE_SHEET;
  await keep({ kind: 'sheet', subject: lineageId, sheet: EXAMPLE_SHEET });
  await keep({
    kind: 'sheet',
    subject: lineageId,
    sheet: { ...EXAMPLE_SHEET, id: 'second', number: 2, lines: EXAMPLE_SHEET.lines.slice(0, 4) },
  });
  const second = await print({ is: 'sheet', lineageId, sheetId: 'second' }, 'csv');
  expect(second.name).toBe('sheet-Heron-R2-Base-set-up-no-2.csv');
  expect(second.content.is === 'text' && second.content.text.split('\r\n')).toHaveLength(6);
  await expect(print({ is: 'sheet', lineageId, sheetId: 'third' }, 'pdf')).rejects.toThrow(
    RefusedError,
  );
});
