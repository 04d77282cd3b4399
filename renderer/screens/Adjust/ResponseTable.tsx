import type { ReactElement } from 'react';
import type { AdjustmentNow } from '../../../core/adjust/adjustment.ts';
import { factorsFound, perTurn } from '../../../core/adjust/learn.ts';
import { reasonInWords } from '../../../core/adjust/reasonInWords.ts';
import type { RestBand } from '../../../core/adjust/restBand.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { CORNERS, cornerLabel } from '../../../core/corners.ts';
import { fixed, HARD_SPACE } from '../../../core/format/number.ts';
import { changeText, MM, valueText } from '../../../core/format/valueShown.ts';
import type { Measured } from '../../../core/measured.ts';
import { Tag } from '../../parts/Tag.tsx';
import { BandLine } from './BandLine.tsx';
import styles from './Screen.module.css';

const factorText = ({ value, u }: Measured): string => `${fixed(value, 2)} ±${fixed(u, 2)}`;

/** What one turn does, as learnt, against the data of the car; and what does not fit. */
export const ResponseTable = ({
  now,
  band,
  state,
}: {
  readonly now: AdjustmentNow;
  readonly band: RestBand | null;
  readonly state: BenchState;
}): ReactElement => {
  const { massUnit, cornerLabels } = state.settings;
  const mass = { kind: 'mass', unit: massUnit } as const;
  const learnt = perTurn(now.response);
  const before = perTurn({
    ...now.prior,
    logFactors: now.prior.logFactors.map(() => 0),
  });
  const factors = factorsFound(now.response);
  const g = now.reading.gravity;
  const found = now.disagreement;
  return (
    <section className={styles['table']} aria-label="What a turn does">
      <h2>What one turn up does</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">corner</th>
            <th scope="col">its load</th>
            <th scope="col">by the data</th>
            <th scope="col">body rises</th>
            <th scope="col">seat × data</th>
            <th scope="col">rate × data</th>
          </tr>
        </thead>
        <tbody>
          {CORNERS.map((corner) => {
            const one = learnt[corner];
            const data = before[corner];
            return (
              <tr key={corner}>
                <th scope="row">{cornerLabel(corner, cornerLabels)}</th>
                {one && data ? (
                  <>
                    <td>
                      {changeText(mass, one.load.value / g, one.load.u / g)} ±
                      {valueText(mass, one.load.u / g, one.load.u / g)}
                    </td>
                    <td>{changeText(mass, data.load.value / g)}</td>
                    <td>
                      {changeText(MM, one.rise.value, one.rise.u)} ±
                      {valueText(MM, one.rise.u, one.rise.u)}
                    </td>
                    <td>{factorText(factors[corner].seat)}</td>
                    <td>{factorText(factors[corner].rate)}</td>
                  </>
                ) : (
                  <td colSpan={5}>no adjuster</td>
                )}
              </tr>
            );
          })}
        </tbody>
      </table>
      {found ? (
        <div className={styles['disagrees']}>
          <p>
            <Tag kind="alarm">disagrees</Tag> At the left front{' '}
            {changeText(mass, found.load.seen.value, found.load.seen.u)} where{' '}
            {changeText(mass, found.load.expected.value, found.load.expected.u)} was expected
            (chance {fixed(100 * found.chance, 2)}
            {HARD_SPACE}%). Likely:
          </p>
          <ol>
            {found.reasons.map((reason) => (
              <li key={`${reason.kind} ${reason.corner}`}>
                {fixed(100 * reason.weight, 0)}
                {HARD_SPACE}% {reasonInWords(reason)}
              </li>
            ))}
            {found.reasons.length === 0 ? (
              <li>None of the known reasons explains it. Settle and read again.</li>
            ) : null}
          </ol>
        </div>
      ) : (
        <p>
          <Tag kind="note">fits</Tag> The newest reading fits what was known.
        </p>
      )}
      {band ? <BandLine band={band} /> : null}
    </section>
  );
};
