import type { ReactElement } from 'react';
import { CORNERS, type PerCorner } from '../../core/corners.ts';
import type { MassUnit } from '../../core/units.ts';
import type { FrameLoop } from '../live/frameLoop.ts';
import { LiveTrace, type TraceSource } from './LiveTrace.tsx';

export interface LiveTracesProps {
  readonly sources: PerCorner<TraceSource>;
  readonly loop: FrameLoop;
  readonly unit: MassUnit;
  /** Size of each of the four, CSS pixels. */
  readonly width: number;
  readonly height: number;
}

/** The four live traces in the order of the corners: what the drawing benchmark measures. */
export const LiveTraces = ({
  sources,
  loop,
  unit,
  width,
  height,
}: LiveTracesProps): ReactElement => (
  <>
    {CORNERS.map((corner) => (
      <LiveTrace
        key={corner}
        ring={sources[corner].ring}
        hostNow={sources[corner].hostNow}
        loop={loop}
        unit={unit}
        width={width}
        height={height}
      />
    ))}
  </>
);
