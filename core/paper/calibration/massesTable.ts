import { listed } from '../../answers/answer.ts';
import { massKnown } from '../../calibration/appliedMass.ts';
import type { CalibrationRecord } from '../../contract/calibrationRecord.ts';
import { HARD_SPACE } from '../../format/number.ts';
import type { MassBasis, ReferenceMass } from '../../sheet/massSet.ts';
import type { PaperBlock, PaperCell } from '../paperDocument.ts';
import { significant } from '../written.ts';

/** What is known of a mass beyond the number on it, in words. */
export const basisInWords = (basis: MassBasis): string => {
  switch (basis.is) {
    case 'class':
      return `class ${basis.class} (OIML R 111)`;
    case 'certificate':
      return `certificate: ${significant(basis.value, 12)} kg, U = ${significant(basis.expanded, 6)} kg, k = ${significant(basis.coverageFactor, 6)}`;
    case 'tolerance':
      return `±${significant(basis.halfWidth, 6)} kg by its maker`;
    case 'number only':
      return 'the number on it, nothing else';
  }
};

/** Masses of the set that stood on the pad. */
export const massesUsed = ({ masses, points }: CalibrationRecord): readonly ReferenceMass[] => {
  const used = new Set(points.flatMap(({ massIds }) => massIds));
  return (masses?.masses ?? []).filter(({ id }) => used.has(id));
};

const row = (alike: readonly [ReferenceMass, ...ReferenceMass[]]): readonly PaperCell[] => {
  const [{ nominal, basis }] = alike;
  const { value, u } = massKnown(alike[0]);
  return [
    String(alike.length),
    listed(alike.map(({ label }) => label.replaceAll(' ', HARD_SPACE))),
    `${significant(nominal.value, 12)}${HARD_SPACE}${nominal.unit}`,
    basisInWords(basis),
    significant(value, 10),
    u === null ? { text: 'not known', mark: 'open' } : significant(1000 * u, 3),
  ];
};

/** The masses that were used, those of one kind in one row. */
export const massesTable = (record: CalibrationRecord): readonly PaperBlock[] => {
  const kinds = Map.groupBy(massesUsed(record), ({ nominal, basis }) =>
    JSON.stringify([nominal, basis]),
  );
  if (kinds.size === 0) return [];
  return [
    { is: 'heading', text: `Masses: ${record.masses?.name ?? ''}` },
    {
      is: 'table',
      columns: [
        { head: 'No.', align: 'right' },
        { head: 'Marked', align: 'left' },
        { head: 'Nominal', align: 'right' },
        { head: 'Known by', align: 'left' },
        { head: 'Each, kg', align: 'right' },
        { head: 'u of each, g', align: 'right' },
      ],
      rows: [...kinds.values()].flatMap(([first, ...rest]) =>
        first ? [row([first, ...rest])] : [],
      ),
    },
  ];
};
