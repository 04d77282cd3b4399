import { useCallback, type ReactElement } from 'react';
import { CORNER_NAMES, cornerLabel, type Corner } from '../../../core/corners.ts';
import type { BenchState, Frame } from '../../../core/contract/events.ts';
import { sameFields, useFrame } from '../../live/useLive.tsx';
import { StillnessMark } from '../../parts/StillnessMark.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { CornerSource } from './CornerSource.tsx';
import { CornerTrace } from './CornerTrace.tsx';
import { cornerView, type CornerView } from './cornerView.ts';
import styles from './CornerBlock.module.css';

const Tags = ({ view }: { readonly view: CornerView }): ReactElement => (
  <>
    {view.overload ? <Tag kind="alarm">overload</Tag> : null}
    {view.status === 'absent' ? <Tag kind="stale">no pad heard</Tag> : null}
    {view.status !== 'absent' && !view.zeroed ? <Tag kind="note">no zero</Tag> : null}
    {view.status !== 'absent' && !view.calibrated ? <Tag kind="note">not calibrated</Tag> : null}
  </>
);

/** One corner: its weight, how well it is known, how still it is, and its last 20 s. */
export const CornerBlock = ({
  corner,
  state,
}: {
  readonly corner: Corner;
  readonly state: BenchState;
}): ReactElement => {
  const { massUnit, cornerLabels } = state.settings;
  const select = useCallback(
    (frame: Frame | null) =>
      cornerView(frame?.corners[corner] ?? null, frame?.early?.masses[corner] ?? null, massUnit),
    [corner, massUnit],
  );
  const view = useFrame(select, sameFields);
  const label = cornerLabel(corner, cornerLabels);
  return (
    <article
      className={styles['block']}
      data-corner={corner}
      data-status={view.status}
      data-overload={view.overload}
      aria-label={CORNER_NAMES[corner]}
    >
      <header className={styles['head']}>
        <CornerSource corner={corner} label={label} state={state} />
        {view.stillness === null ? null : <StillnessMark is={view.stillness} />}
        {view.age === null ? null : <Tag kind="stale">{view.age} old</Tag>}
      </header>
      <p className={styles['reading']}>
        <span className={styles['figure']}>{view.number ?? '—'}</span>
        {view.number === null ? null : <span className={styles['unit']}>{massUnit}</span>}
      </p>
      <p className={styles['tags']}>
        {view.u === null ? null : (
          <span className={styles['u']}>
            ±{view.u} {massUnit}
          </span>
        )}
        {view.early === null ? null : (
          <>
            <Tag kind="note">going to {view.early}</Tag>
            <Tag kind="note">provisional</Tag>
          </>
        )}
        <Tags view={view} />
      </p>
      <CornerTrace corner={corner} unit={massUnit} label={label} />
    </article>
  );
};
