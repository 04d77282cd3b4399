import { useEffect, useRef, type PointerEvent, type ReactElement } from 'react';
import type { Corner } from '../../../core/corners.ts';
import { fixed } from '../../../core/format/number.ts';
import { massIn, type MassUnit } from '../../../core/units.ts';
import { useClient, useFrameLoop } from '../../live/useLive.tsx';
import { useSize } from '../../parts/useSize.ts';
import { LiveTrace } from '../../plot/LiveTrace.tsx';
import { readTraceAt, TRACE_PLOT } from '../../plot/traceHover.ts';
import styles from './CornerTrace.module.css';

/** The last 20 s of a corner, with a reading under the pointer. */
export const CornerTrace = ({
  corner,
  unit,
  label,
}: {
  readonly corner: Corner;
  readonly unit: MassUnit;
  readonly label: string;
}): ReactElement => {
  const { live } = useClient();
  const loop = useFrameLoop();
  const [element, size] = useSize<HTMLDivElement>();
  const pointer = useRef<number | null>(null);
  const line = useRef<HTMLDivElement>(null);
  const words = useRef<HTMLSpanElement>(null);
  const width = size?.width ?? 0;

  useEffect(
    () =>
      loop.add(() => {
        if (!line.current || !words.current) return;
        const now = live.hostNow();
        const at =
          pointer.current === null || now === null
            ? null
            : readTraceAt(live.rings[corner], now, pointer.current, width);
        line.current.hidden = at === null;
        if (!at) return;
        line.current.style.transform = `translateX(${at.x}px)`;
        line.current.dataset['side'] = at.x > width / 2 ? 'right' : 'left';
        words.current.textContent =
          at.mass === null
            ? 'nothing heard'
            : `${fixed(massIn(unit, at.mass), 1)} ${unit}, ${fixed(at.ago, 1)} s ago`;
      }),
    [loop, live, corner, unit, width],
  );

  const point = (event: PointerEvent<HTMLDivElement>): void => {
    const x = event.clientX - event.currentTarget.getBoundingClientRect().left;
    pointer.current = x < TRACE_PLOT.left ? null : x;
  };
  return (
    <div
      className={styles['trace']}
      ref={element}
      role="img"
      aria-label={`${label}, the last 20 seconds`}
      onPointerMove={point}
      onPointerDown={point}
      onPointerLeave={() => {
        pointer.current = null;
      }}
    >
      {size && size.height > 30 ? (
        <div className={styles['chart']}>
          <LiveTrace
            ring={live.rings[corner]}
            hostNow={live.hostNow}
            loop={loop}
            unit={unit}
            width={size.width}
            height={size.height}
          />
        </div>
      ) : null}
      <div className={styles['line']} ref={line} hidden>
        <span ref={words} />
      </div>
    </div>
  );
};
