import { massKnown } from '../../calibration/appliedMass.ts';
import { isForUse } from '../../calibration/useRecord.ts';
import type { CalibrationRecord } from '../../contract/calibrationRecord.ts';
import { utcIso } from '../../format/civilTime.ts';
import { csvText, type CsvColumn, type CsvValue } from '../csv.ts';
import { basisInWords, massesUsed } from './massesTable.ts';

interface Row {
  readonly part: string;
  /** Which of several, from 1: a mass, a coefficient, "row column" of a covariance; empty for one. */
  readonly which: CsvValue;
  readonly name: string;
  readonly value: CsvValue;
  readonly unit: string;
}

/** Columns of everything about a calibration that is no point: one row for each thing known. */
const FACT_COLUMNS: readonly CsvColumn<Row>[] = [
  {
    name: 'part',
    means:
      'record, mass, pad in series, fit, use, characteristic, verdict or finding: what it belongs to',
    of: ({ part }) => part,
  },
  {
    name: 'which',
    means:
      'which of several, from 1; of a covariance its row and column; of a verdict its test; else empty',
    of: ({ which }) => which,
  },
  { name: 'name', means: 'what it is', of: ({ name }) => name },
  {
    name: 'value',
    means: 'as it is stored; empty where it is not known or not there',
    of: ({ value }) => value,
  },
  {
    name: 'unit',
    means: 'of the value; empty for words and plain numbers',
    of: ({ unit }) => unit,
  },
];

type Line = readonly [name: string, value: CsvValue, unit?: string];

const rows = (part: string, which: CsvValue, lines: readonly Line[]): readonly Row[] =>
  lines.map(([name, value, unit = '']) => ({ part, which, name, value, unit }));

const head = (record: CalibrationRecord): readonly Row[] =>
  rows('record', null, [
    ['version', record.version],
    ['id', record.id],
    ['replaces', record.replaces],
    ['pad', record.padSerial],
    ['kind', record.kind],
    ['made at', utcIso(record.madeAt)],
    ['practice', record.practice],
    ['place', record.place.name],
    ['gravity', record.place.gravity, 'm/s²'],
    ['rated load', record.rating?.ratedLoad ?? null, 'kg'],
    ['counts at rated load', record.rating?.countsAtRatedLoad ?? null, 'counts'],
    ['mass set', record.masses?.name ?? null],
    ['for use', isForUse(record)],
    ['in spite of what was found', record.inSpiteOf],
  ]);

const masses = (record: CalibrationRecord): readonly Row[] =>
  massesUsed(record).flatMap((mass, index) => {
    const { value, u } = massKnown(mass);
    return rows('mass', index + 1, [
      ['label', mass.label],
      ['nominal', mass.nominal.value, mass.nominal.unit],
      ['known by', basisInWords(mass.basis)],
      ['conventional mass', value, 'kg'],
      ['standard uncertainty', u, 'kg'],
    ]);
  });

const series = ({ reference }: CalibrationRecord): readonly Row[] =>
  reference
    ? rows('pad in series', null, [
        ['pad', reference.padSerial],
        ['calibration', reference.calibrationId],
        ['relative standard uncertainty', reference.uRelative, '1'],
      ])
    : [];

const fit = ({ fit: made }: CalibrationRecord): readonly Row[] =>
  made
    ? [
        ...rows('fit', null, [
          ['degree', made.degree],
          ['evidence', made.evidence.kind],
          ['p', made.evidence.p, '1'],
          ['lack of fit remains', made.evidence.remains],
          ['residual standard deviation', made.residualSd, 'counts'],
          ['degrees of freedom', made.dof],
          ['R²', made.rSquared, '1'],
          ['top load', made.top, 'N'],
          ['largest error of turning round', made.inverseError, 'N'],
        ]),
        ...made.zeros.flatMap((zero, index) => rows('fit', index + 1, [['zero', zero, 'counts']])),
        ...made.coefficients.flatMap((each, k) =>
          rows('fit', k + 1, [['coefficient', each, `counts/N^${k + 1}`]]),
        ),
        ...made.covariance.flatMap((line, j) =>
          line.flatMap((each, k) =>
            rows('fit', `${j + 1} ${k + 1}`, [['covariance', each, `counts²/N^${j + k + 2}`]]),
          ),
        ),
      ]
    : [];

const use = ({ coefficients, uApplied }: CalibrationRecord): readonly Row[] => [
  ...(coefficients ?? []).flatMap((each, k) =>
    rows('use', k + 1, [['coefficient', each, `N/counts^${k + 1}`]]),
  ),
  ...rows('use', null, [['relative standard uncertainty of what was applied', uApplied, '1']]),
];

const characteristics = ({ characteristics: shown }: CalibrationRecord): readonly Row[] => {
  if (!shown) return [];
  const { nonlinearity, hysteresis, repeatability, zeroReturn, creep } = shown;
  const worst = (name: string, seen: typeof nonlinearity): readonly Line[] => [
    [name, seen?.value ?? null, 'kg'],
    [`${name}, load`, seen?.load ?? null, 'kg'],
  ];
  return rows('characteristic', null, [
    ...worst('nonlinearity', nonlinearity),
    ...worst('hysteresis', hysteresis),
    ['range of repeats', repeatability?.range ?? null, 'kg'],
    ['range of repeats, load', repeatability?.load ?? null, 'kg'],
    ['standard deviation of repeats', repeatability?.sd ?? null, 'kg'],
    ['degrees of freedom of repeats', repeatability?.dof ?? null],
    ...worst('zero return', zeroReturn),
    ['creep', creep?.change ?? null, 'kg'],
    ['creep, load', creep?.load ?? null, 'kg'],
    ['creep, time', creep?.seconds ?? null, 's'],
    ['creep from 15 to 30 minutes', creep?.late ?? null, 'kg'],
  ]);
};

const verdict = ({ verdict: judged }: CalibrationRecord): readonly Row[] => {
  if (!judged) return [];
  const { against, outcome, tests } = judged;
  return [
    ...rows('verdict', null, [
      ['outcome', outcome],
      ...(against.is === 'class'
        ? ([
            ['class', against.accuracy],
            ['interval', against.interval, 'kg'],
            ['when', against.when],
          ] as const)
        : ([
            ['own limit', against.fixed, 'kg'],
            ['own limit, share of the load', against.share, '1'],
          ] as const)),
    ]),
    ...tests.flatMap((each) => {
      const unit = each.test === 'intervals' ? '' : 'kg';
      return rows('verdict', each.test, [
        ['outcome', each.outcome],
        ['worst', each.worst, unit],
        ['limit', each.limit, unit],
        ['load', each.load, 'kg'],
      ]);
    }),
  ];
};

const findings = ({ findings: found }: CalibrationRecord): readonly Row[] =>
  found.flatMap(({ code, weight, what, why, next, points }, index) =>
    rows('finding', index + 1, [
      ['code', code],
      ['weight', weight],
      ['what', what],
      ['why', why],
      ['next', next],
      ['points', points.join(' ')],
    ]),
  );

/** Everything of the record but its points as a file (RFC 4180). */
export const calibrationFactsCsv = (record: CalibrationRecord): string =>
  csvText(
    FACT_COLUMNS,
    [head, masses, series, fit, use, characteristics, verdict, findings].flatMap((part) =>
      part(record),
    ),
  );
