import type { ReactElement } from 'react';
import { verdictInWords } from '../../../core/calibration/verdictInWords.ts';
import type { CalibrationRecord } from '../../../core/contract/calibrationRecord.ts';
import { fixed, HARD_SPACE } from '../../../core/format/number.ts';
import { massIn, type MassUnit } from '../../../core/units.ts';
import styles from './Calibrate.module.css';

const DEGREE_WORDS = { 1: 'straight line', 2: 'with a square', 3: 'with a cube' } as const;

/** What the curve is and what the pad shows of itself. */
export const CalibrationNumbers = ({
  record,
  unit,
}: {
  readonly record: CalibrationRecord;
  readonly unit: MassUnit;
}): ReactElement | null => {
  const { fit, characteristics: shown, verdict, uApplied } = record;
  if (!fit) return null;
  const mass = (kg: number): string => `${fixed(massIn(unit, kg), 3)}${HARD_SPACE}${unit}`;
  const worst = (found: { readonly value: number; readonly load: number } | null): string =>
    found ? `${mass(found.value)} at ${fixed(massIn(unit, found.load), 0)}` : 'not seen';
  const rows: readonly (readonly [string, string])[] = [
    ['Curve', DEGREE_WORDS[fit.degree]],
    [
      'Left over',
      `p ${fixed(fit.evidence.p, 3)} (${fit.evidence.kind}), R² ${fit.rSquared >= 0.9999995 ? '≈ 1' : fixed(fit.rSquared, 6)}`,
    ],
    ['Nonlinearity', worst(shown?.nonlinearity ?? null)],
    ['Hysteresis', worst(shown?.hysteresis ?? null)],
    [
      'Repeatability',
      shown?.repeatability
        ? `${mass(shown.repeatability.sd)} (one standard deviation)`
        : 'not seen',
    ],
    ['Zero return', worst(shown?.zeroReturn ?? null)],
    [
      'Creep at the top',
      shown?.creep
        ? `${mass(shown.creep.change)} in ${fixed(shown.creep.seconds / 60, 1)}${HARD_SPACE}min`
        : 'not seen',
    ],
    ['Masses', uApplied === null ? 'not known' : `${fixed(100 * uApplied, 4)}${HARD_SPACE}%`],
  ];
  return (
    <section aria-label="What the points make" className={styles['numbers']}>
      {verdict ? (
        <p data-outcome={verdict.outcome} className={styles['verdict']}>
          {verdictInWords(verdict, unit)}
        </p>
      ) : null}
      <dl>
        {rows.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
};
