import { useCallback, type ReactElement } from 'react';
import { diagonalLabel } from '../../../core/answers/balanceAnswer.ts';
import type { BenchState, Frame } from '../../../core/contract/events.ts';
import { CORNERS, cornerLabel } from '../../../core/corners.ts';
import { fixed } from '../../../core/format/number.ts';
import { massIn } from '../../../core/units.ts';
import { sameFields, useFrame } from '../../live/useLive.tsx';
import { hasCar } from '../Balance/balanceView.ts';
import styles from './LiveFour.module.css';

/** The four weights and cross as they are now, small: what the plan is held against. */
export const LiveFour = ({ state }: { readonly state: BenchState }): ReactElement => {
  const { massUnit, cornerLabels, cross } = state.settings;
  const select = useCallback(
    (frame: Frame | null) => ({
      ...Object.fromEntries(
        CORNERS.map((corner) => {
          const live = frame?.corners[corner];
          return [
            corner,
            live?.status === 'live' && live.mass !== null
              ? fixed(massIn(massUnit, live.mean ?? live.mass), 1)
              : '—',
          ];
        }),
      ),
      cross:
        frame?.balance && frame.stillness && hasCar(frame)
          ? fixed(100 * frame.balance.crossShare.value, 2)
          : '—',
      still: frame?.stillness ?? 'not live',
    }),
    [massUnit],
  );
  const seen: Readonly<Record<string, string>> = useFrame(select, sameFields);
  return (
    <dl className={styles['live']} aria-label="Loads now">
      {CORNERS.map((corner) => (
        <div key={corner}>
          <dt>{cornerLabel(corner, cornerLabels)}</dt>
          <dd>
            {seen[corner]} <small>{massUnit}</small>
          </dd>
        </div>
      ))}
      <div>
        <dt>Cross {diagonalLabel(cross, cornerLabels)}</dt>
        <dd>
          {seen['cross']} <small>%</small>
        </dd>
      </div>
      <div>
        <dt>Pads</dt>
        <dd className={styles['still']}>{seen['still']}</dd>
      </div>
    </dl>
  );
};
