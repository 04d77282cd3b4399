import { verdictInWords } from '../../calibration/verdictInWords.ts';
import type { CalibrationRecord, Finding, Verdict } from '../../contract/calibrationRecord.ts';
import { HARD_SPACE } from '../../format/number.ts';
import type { PaperBlock, PaperCell, PaperMark } from '../paperDocument.ts';
import { dofInWords, significant } from '../written.ts';
import { padMasses } from './padMasses.ts';

type TestResult = Verdict['tests'][number];

const TEST_WORDS: Readonly<Record<TestResult['test'], string>> = {
  errors: 'Errors',
  repeatability: 'Range of repeats',
  'zero return': 'Zero return',
  creep: 'Creep',
  masses: `What was applied, 2${HARD_SPACE}u`,
  intervals: 'Number of intervals',
};

const OUTCOME_MARKS: Readonly<Record<TestResult['outcome'], PaperMark>> = {
  within: 'good',
  outside: 'bad',
  'not seen': 'open',
};

const VERDICT_MARKS: Readonly<Record<Verdict['outcome'], PaperMark>> = {
  within: 'good',
  outside: 'bad',
  'cannot tell': 'open',
};

const kg = (text: string): string => `${text}${HARD_SPACE}kg`;

/** The limits it was held against, every test with its worst. */
export const verdictTable = (record: CalibrationRecord): readonly PaperBlock[] => {
  const { verdict } = record;
  if (!verdict)
    return [
      { is: 'heading', text: 'Verdict' },
      { is: 'text', tone: 'plain', text: 'It was held against no limits.' },
    ];
  const { written } = padMasses(record);
  const row = ({ test, worst, limit, load, outcome }: TestResult): readonly PaperCell[] => {
    const shown = (value: number | null, of: (known: number) => string): string =>
      value === null ? '' : of(value);
    const counted = test === 'intervals';
    return [
      TEST_WORDS[test],
      shown(worst, (value) => (counted ? significant(value, 6) : kg(written(value)))),
      shown(load, (value) => kg(written(value))),
      shown(limit, (value) => (counted ? significant(value, 6) : kg(significant(value, 4)))),
      { text: outcome, mark: OUTCOME_MARKS[outcome] },
    ];
  };
  return [
    { is: 'heading', text: 'Verdict' },
    {
      is: 'text',
      tone: 'strong',
      text: { text: verdictInWords(verdict, 'kg'), mark: VERDICT_MARKS[verdict.outcome] },
    },
    {
      is: 'table',
      columns: [
        { head: 'Test', align: 'left' },
        { head: 'Worst', align: 'right' },
        { head: 'At', align: 'right' },
        { head: 'Limit', align: 'right' },
        { head: 'Outcome', align: 'left' },
      ],
      rows: verdict.tests.map(row),
    },
  ];
};

/** What the pad shows of itself. */
export const characteristicsTable = (record: CalibrationRecord): readonly PaperBlock[] => {
  const { characteristics } = record;
  if (!characteristics) return [];
  const { written } = padMasses(record);
  const { nonlinearity, hysteresis, repeatability, zeroReturn, creep } = characteristics;
  const row = (name: string, seen: { value: number; load: number } | null): PaperCell[] =>
    seen
      ? [name, kg(written(seen.value)), kg(written(seen.load))]
      : [name, { text: 'not seen', mark: 'open' }, ''];
  return [
    { is: 'heading', text: 'The pad itself' },
    {
      is: 'table',
      columns: [
        { head: 'Worst seen', align: 'left' },
        { head: 'Value', align: 'right' },
        { head: 'At', align: 'right' },
      ],
      rows: [
        row('Nonlinearity, rising', nonlinearity),
        row('Hysteresis, falling less rising', hysteresis),
        row(
          'Range of repeats',
          repeatability && { value: repeatability.range, load: repeatability.load },
        ),
        ...(repeatability
          ? [
              [
                `Their scatter, ${dofInWords(repeatability.dof)} degrees of freedom`,
                kg(written(repeatability.sd)),
                '',
              ],
            ]
          : []),
        row('Zero return', zeroReturn),
        row(
          creep ? `Creep in ${significant(creep.seconds, 4)} s` : 'Creep',
          creep && { value: creep.change, load: creep.load },
        ),
        ...(creep && creep.late !== null
          ? [row('Creep from 15 to 30 minutes', { value: creep.late, load: creep.load })]
          : []),
      ],
    },
  ];
};

const WEIGHT_MARKS: Readonly<Record<Exclude<Finding['weight'], 'notes'>, PaperMark>> = {
  refuses: 'bad',
  warns: 'open',
};

/** What was found against it, all of it. */
export const findingsTable = ({ findings }: CalibrationRecord): readonly PaperBlock[] =>
  findings.length === 0
    ? []
    : [
        { is: 'heading', text: 'Found' },
        {
          is: 'table',
          columns: [
            { head: '', align: 'left' },
            { head: 'What', align: 'left' },
            { head: 'Why it matters', align: 'left' },
            { head: 'What to do', align: 'left' },
          ],
          rows: findings.map(({ weight, what, why, next }) => [
            weight === 'notes' ? weight : { text: weight, mark: WEIGHT_MARKS[weight] },
            what,
            why,
            next,
          ]),
        },
      ];
