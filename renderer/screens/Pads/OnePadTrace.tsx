import type { ReactElement } from 'react';
import { fixed } from '../../../core/format/number.ts';
import { massShown } from '../../../core/format/quantity.ts';
import type { MassUnit } from '../../../core/units.ts';
import { sameFields, useClient, useFrame, useFrameLoop } from '../../live/useLive.tsx';
import { StillnessMark } from '../../parts/StillnessMark.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { useSize } from '../../parts/useSize.ts';
import { LiveTrace } from '../../plot/LiveTrace.tsx';
import styles from './OnePadTrace.module.css';

/** What one pad reads now, how still it is, and its last 20 s. */
export const OnePadTrace = ({
  serial,
  unit,
}: {
  readonly serial: string;
  readonly unit: MassUnit;
}): ReactElement => {
  const { live } = useClient();
  const loop = useFrameLoop();
  const [element, size] = useSize<HTMLDivElement>();
  const now = useFrame((frame) => {
    const one = frame?.onePad ?? null;
    if (!one || one.serial !== serial) return null;
    const { isLive, stillness, mass, mean, u } = one;
    return { isLive, stillness, mass, mean, u };
  }, sameFields);
  const shown =
    now === null || now.mass === null
      ? null
      : now.mean !== null && now.u !== null
        ? massShown(unit, now.mean, now.u)
        : massShown(unit, now.mass, { decimals: 1 });
  return (
    <section
      className={styles['one']}
      aria-label={`Pad ${serial}, live`}
      data-live={now?.isLive ?? false}
    >
      <header className={styles['head']}>
        <h3>{serial}</h3>
        {now?.stillness ? <StillnessMark is={now.stillness} /> : null}
        {now && !now.isLive ? <Tag kind="stale">not live</Tag> : null}
        {now ? null : <Tag kind="stale">waiting for it</Tag>}
      </header>
      <p className={styles['figure']}>
        <span>{shown ? shown.number : '—'}</span>
        <small>
          {unit}
          {shown?.u ? ` ±${shown.u}` : ''}
        </small>
      </p>
      <div
        className={styles['trace']}
        ref={element}
        role="img"
        aria-label={`${serial}, the last ${fixed(20, 0)} seconds`}
      >
        {size && size.height > 30 ? (
          <LiveTrace
            ring={live.onePad}
            hostNow={live.hostNow}
            loop={loop}
            unit={unit}
            width={size.width}
            height={size.height}
          />
        ) : null}
      </div>
    </section>
  );
};
