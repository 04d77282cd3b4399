import { predictionAt } from '../../calibration/curveUse.ts';
import type { CalibrationRecord } from '../../contract/calibrationRecord.ts';
import { combine } from '../../uncertainty/combine.ts';
import type { PaperBlock } from '../paperDocument.ts';
import { dofInWords, exact, significant, uncertain } from '../written.ts';
import { padMasses } from './padMasses.ts';

type Fit = NonNullable<CalibrationRecord['fit']>;

const DEGREES = { 1: '1, a straight line', 2: '2, a parabola', 3: '3, a cubic' } as const;

const evidenceInWords = ({ kind, p, remains }: Fit['evidence']): string => {
  const chance = p < 1e-4 ? 'p < 0.0001' : `p = ${significant(p, 2)}`;
  if (kind === 'highest coefficient') return `highest coefficient against its scatter, ${chance}`;
  return `lack of fit against repeats, ${chance}${remains ? ': some remains at the highest degree tried' : ''}`;
};

/** The curve: what it is, its coefficients to every digit, and their covariance. */
export const fitTables = (record: CalibrationRecord): readonly PaperBlock[] => {
  const { fit, coefficients } = record;
  const used = (k: number): string => {
    const each = coefficients?.[k];
    return each === undefined ? 'none' : exact(each);
  };
  if (!fit)
    return coefficients
      ? [
          { is: 'heading', text: 'Span' },
          {
            is: 'facts',
            columns: 1,
            facts: coefficients.map((_, k) => ({ name: `N per count^${k + 1}`, value: used(k) })),
          },
        ]
      : [];
  const { scatter, toMass, written } = padMasses(record);
  return [
    { is: 'heading', text: 'Curve: counts over zero as a polynomial of the force' },
    {
      is: 'facts',
      columns: 2,
      facts: [
        { name: 'Degree', value: DEGREES[fit.degree] },
        { name: 'Chosen by', value: evidenceInWords(fit.evidence) },
        {
          name: 'Residual scatter',
          value: `${significant(fit.residualSd, 4)} counts, ${scatter === null ? '' : significant(scatter, 3)} kg`,
        },
        { name: 'Degrees of freedom', value: dofInWords(fit.dof) },
        { name: 'R²', value: significant(fit.rSquared, 9) },
        { name: 'Points reach up to', value: `${written(toMass(fit.top))} kg` },
        {
          name: 'Zeros, counts',
          value: fit.zeros.map((zero) => significant(zero, 9)).join(', '),
        },
        {
          name: 'Turned round to within',
          value: `${uncertain(toMass(fit.inverseError))} kg`,
        },
      ],
    },
    {
      is: 'table',
      columns: [
        { head: 'k', align: 'right' },
        { head: 'Counts per N^k', align: 'right' },
        ...fit.coefficients.map((_, k) => ({
          head: `Covariance with k = ${k + 1}`,
          align: 'right' as const,
        })),
        { head: 'As used: N per count^k', align: 'right' },
      ],
      rows: fit.coefficients.map((each, k) => [
        String(k + 1),
        exact(each),
        ...(fit.covariance[k] ?? []).map((entry) => exact(Number(entry.toPrecision(7)))),
        used(k),
      ]),
    },
  ];
};

/** Loads at which the uncertainty is written, as shares of the top load. */
const SHARES = [0.2, 0.4, 0.6, 0.8, 1] as const;

/** What is uncertain of one reading through the curve, by load; kg. */
export const uncertaintyTable = (record: CalibrationRecord): readonly PaperBlock[] => {
  const { fit, uApplied } = record;
  const { curve, toMass, written } = padMasses(record);
  if (!fit || !curve) return [];
  const rows = SHARES.map((share) => {
    const force = share * fit.top;
    const { curve: u, reading, dof } = predictionAt(curve, force);
    const masses = uApplied === null ? null : uApplied * force;
    const whole = combine([
      { name: 'reading', kind: 'A', u: reading, dof },
      { name: 'applied', kind: 'B', u: masses, dof: Infinity },
    ]);
    const shown = (part: number): string => uncertain(toMass(part));
    return [
      written(toMass(force)),
      shown(u),
      shown(reading),
      masses === null ? 'not known' : shown(masses),
      shown(whole.expanded),
    ];
  });
  const lower = uApplied === null ? ', masses left out: at least this' : '';
  return [
    { is: 'heading', text: 'Uncertainty of one reading (the zero of the day not in it)' },
    {
      is: 'table',
      columns: [
        { head: 'Load, kg', align: 'right' },
        { head: 'u of the curve, kg', align: 'right' },
        { head: 'u of a reading, kg', align: 'right' },
        { head: 'u of what was applied, kg', align: 'right' },
        { head: `Expanded, 95 %, kg${lower}`, align: 'right' },
      ],
      rows,
    },
  ];
};
