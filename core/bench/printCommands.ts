import type { PrintWhat, Printed } from '../contract/print.ts';
import { HARD_SPACE } from '../format/number.ts';
import { massShown, shareShown } from '../format/quantity.ts';
import { budgetCsv } from '../paper/budget/budgetCsv.ts';
import { budgetPaper, type BudgetSubject } from '../paper/budget/budgetPaper.ts';
import { calibrationFactsCsv } from '../paper/calibration/calibrationFactsCsv.ts';
import { calibrationPaper } from '../paper/calibration/calibrationPaper.ts';
import { calibrationPointsCsv } from '../paper/calibration/calibrationPointsCsv.ts';
import { utcInWords } from '../format/civilTime.ts';
import type { PaperDocument } from '../paper/paperDocument.ts';
import { massIn, type MassUnit } from '../units.ts';
import { printedRecord, printedSheet } from './printedSheets.ts';
import { budgetsOf, RESULT_NAMES } from './budgetsOf.ts';
import { refuse, type Handlers } from './answering.ts';
import type { PaperPort } from './ports.ts';
import type { Answer } from './screens.ts';
import type { BenchWorkings } from './workings.ts';

/** What printing does: a paper or a table made of records, as a file for the person. */

export interface Printing {
  /** Name of the file without its ending. */
  readonly name: string;
  readonly paper: () => PaperDocument;
  readonly csv: () => string;
}

const NOT_THERE = refuse('It is not in the records.', 'Choose one from the list.');

/** Letters that every file system takes. */
const fileName = (text: string): string => text.replace(/[^\p{L}\p{N}.-]+/gu, '-');

/** What a budget is of, in the unit that the crew reads. */
const subjectOf = (
  { name, value, isShare }: { name: string; value: number; isShare: boolean },
  u: number,
  massUnit: MassUnit,
): BudgetSubject => {
  const shown = isShare ? shareShown(value, u) : massShown(massUnit, value, u);
  return {
    name,
    value: `${shown.number}${HARD_SPACE}${shown.unit}`,
    unit: shown.unit,
    inUnit: (difference) => (isShare ? 100 * difference : massIn(massUnit, difference)),
  };
};

const printingOf = (bench: BenchWorkings, what: PrintWhat): Printing | null => {
  switch (what.is) {
    case 'sheet':
      return printedSheet(bench, what);
    case 'record':
      return printedRecord(bench, what.recordId);
    case 'certificate': {
      const record = bench.calibrations.find(what.padSerial, what.calibrationId);
      return (
        record && {
          name: `calibration-${record.padSerial}-${utcInWords(record.madeAt)}${what.table === 'facts' ? '-facts' : ''}`,
          paper: () => calibrationPaper(record),
          csv: () =>
            what.table === 'points' ? calibrationPointsCsv(record) : calibrationFactsCsv(record),
        }
      );
    }
    case 'budget': {
      const { massUnit } = bench.memory.settings;
      const capture = bench.openCapture(what.captureId)?.capture;
      if (!capture) return null;
      const named = budgetsOf(bench, capture).map(({ of, value, budget }) => ({
        name: RESULT_NAMES[of],
        value,
        unit: of === 'front' || of === 'left' || of === 'cross' ? '1' : 'kg',
        budget,
      }));
      return {
        name: `budget-${capture.carName}-no-${capture.number}`,
        csv: () => budgetCsv(named),
        paper: () =>
          budgetPaper(
            {
              title: `${capture.carName}, capture no. ${capture.number}, ${utcInWords(capture.takenAt)}`,
              stamp: capture.practice ? 'practice' : null,
              created: capture.takenAt,
              foot: `${capture.venueName}, id ${capture.id}`,
            },
            named.map(({ name, value, unit, budget }) => ({
              budget,
              of: subjectOf({ name, value, isShare: unit === '1' }, budget.u, massUnit),
            })),
          ),
      };
    }
  }
};

export const printHandlers = (paper: PaperPort): Handlers<'print'> => ({
  print: async (bench, { what, form }): Promise<Answer> => {
    const printing = printingOf(bench, what);
    if (!printing) return NOT_THERE;
    const name = fileName(`${printing.name}.${form}`);
    const printed: Printed =
      form === 'csv'
        ? {
            is: 'printed',
            name,
            type: 'text/csv;charset=utf-8',
            content: { is: 'text', text: printing.csv() },
          }
        : {
            is: 'printed',
            name,
            type: 'application/pdf',
            content: {
              is: 'bytes',
              base64: await paper.pdf(printing.paper(), bench.memory.settings.paper),
            },
          };
    return { ok: true, result: printed };
  },
});
