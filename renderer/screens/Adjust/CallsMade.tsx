import type { ReactElement } from 'react';
import type { AdjustmentNow } from '../../../core/adjust/adjustment.ts';
import { callInWords } from '../../../core/adjust/callInWords.ts';
import type { Adjustment } from '../../../core/contract/adjustment.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { CORNERS, cornerLabel } from '../../../core/corners.ts';
import { changeText, valueText } from '../../../core/format/valueShown.ts';
import styles from './Screen.module.css';

/** The calls made, with the loads after each and what they changed. */
export const CallsMade = ({
  adjustment,
  now,
  state,
}: {
  readonly adjustment: Adjustment;
  readonly now: AdjustmentNow;
  readonly state: BenchState;
}): ReactElement => {
  const { massUnit, cornerLabels } = state.settings;
  const mass = { kind: 'mass', unit: massUnit } as const;
  return (
    <section className={styles['table']} aria-label="Calls made">
      <h2>Calls made</h2>
      {adjustment.rounds.length === 0 ? <p>None yet.</p> : null}
      <table>
        <tbody>
          {adjustment.rounds.map(({ calls, before, after }, round) => (
            // Rounds are only ever added.
            <tr key={round}>
              <th scope="row">
                {calls.length === 0
                  ? 'read again'
                  : calls
                      .map((call) => {
                        const adjuster = now.adjusters[call.corner];
                        return adjuster ? callInWords(call, adjuster) : call.corner;
                      })
                      .join(', ')}
              </th>
              {CORNERS.map((corner, i) => {
                const g = after.gravity;
                const load = after.loads.values[i] as number;
                return (
                  <td key={corner}>
                    {cornerLabel(corner, cornerLabels)} {valueText(mass, load / g)}{' '}
                    <small>{changeText(mass, (load - (before[i] as number)) / g)}</small>
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
};
