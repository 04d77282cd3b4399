import { isForUse } from '../../calibration/useRecord.ts';
import type { CalibrationRecord } from '../../contract/calibrationRecord.ts';
import type { PaperBeside, PaperBlock, PaperDocument, PaperPlot } from '../paperDocument.ts';
import { errorPlot, residualPlot } from './calibrationPlots.ts';
import { fitTables, uncertaintyTable } from './fitTables.ts';
import { massesTable } from './massesTable.ts';
import { pointsTable } from './pointsTable.ts';
import { KIND_WORDS, recordFacts, usageInWords } from './recordFacts.ts';
import { characteristicsTable, findingsTable, verdictTable } from './verdictTables.ts';

const NO_ACCREDITATION =
  'Made with a team’s own pads and masses. It is not a certificate of an accredited laboratory and no verification for trade: it says what was found on that day, at that place, and how well it is known.';

const stamp = (record: CalibrationRecord): string | null => {
  if (record.practice) return 'practice';
  return isForUse(record) ? null : 'not for use';
};

type Part = PaperBeside['parts'][number];

/** Those that have something in them, side by side. */
const beside = (...parts: readonly Part[]): readonly PaperBlock[] => {
  const full = parts.filter(({ blocks }) => blocks.length > 0);
  return full.length === 0 ? [] : [{ is: 'beside', parts: full }];
};

const drawn = (plot: PaperPlot | null): Part => ({ share: 1, blocks: plot ? [plot] : [] });

/**
 * The record of a calibration as a paper: what was calibrated and with what, whether it may be used and
 * in spite of what, residuals and errors, the verdict test by test, what was found, the curve with its
 * covariance, and every point. Masses in kg. Across each page stands "practice" where the pads were
 * simulated, "not for use" where something refuses it and no reason was written.
 */
export const calibrationPaper = (record: CalibrationRecord): PaperDocument => ({
  kind: KIND_WORDS[record.kind],
  title: `Pad ${record.padSerial}`,
  stamp: stamp(record),
  created: record.madeAt,
  foot: `Pad ${record.padSerial}, record ${record.id}`,
  pages: 'as needed',
  blocks: [
    { is: 'facts', columns: 2, facts: recordFacts(record) },
    usageInWords(record),
    ...beside(drawn(residualPlot(record)), drawn(errorPlot(record))),
    ...(record.kind === 'rating'
      ? []
      : beside(
          { share: 6, blocks: verdictTable(record) },
          { share: 5, blocks: characteristicsTable(record) },
        )),
    ...findingsTable(record),
    ...fitTables(record),
    ...uncertaintyTable(record),
    ...massesTable(record),
    ...pointsTable(record),
    { is: 'text', tone: 'quiet', text: NO_ACCREDITATION },
  ],
});
