import type { ReactElement } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import { CORNERS, cornerLabel } from '../../../core/corners.ts';
import type { LevelledPatch } from '../../../core/flatPatch/levelPatch.ts';
import { padPlaces } from '../../../core/flatPatch/surveyPlan.ts';
import { fixed, signed } from '../../../core/format/number.ts';
import type { Car } from '../../../core/sheet/car.ts';
import styles from './Screen.module.css';

const WIDTH = 340;
const HEIGHT = 400;
const PAD = 62;
/** The bubble touches its ring at this slope, rad: 1 mm over the tracks. */
const RING_SLOPE = 0.0006;
const RING = 30;

/** The pads from above, front up, each with its height; the bubble runs to the high side. */
export const PatchPlan = ({
  car,
  patch,
  state,
}: {
  readonly car: Car;
  readonly patch: LevelledPatch | null;
  readonly state: BenchState;
}): ReactElement => {
  const places = padPlaces(car);
  const scale = Math.min(
    (WIDTH - PAD - 20) / Math.max(car.trackFront, car.trackRear),
    (HEIGHT - PAD - 60) / car.wheelbase,
  );
  const at = ({ x, y }: { readonly x: number; readonly y: number }) => ({
    left: WIDTH / 2 - y * scale,
    top: 50 - x * scale,
  });
  const lowest = patch
    ? CORNERS.reduce((a, b) => (patch.pads[b].height.value < patch.pads[a].height.value ? b : a))
    : null;
  const highest = patch
    ? CORNERS.reduce((a, b) => (patch.pads[b].height.value > patch.pads[a].height.value ? b : a))
    : null;
  const clamp = (value: number): number => Math.max(-1.6, Math.min(1.6, value));
  const middle = at({ x: -car.wheelbase / 2, y: 0 });
  const track = (car.trackFront + car.trackRear) / 2;
  const slopes = patch && {
    left: patch.level.leftOverRight.value / track,
    forward: patch.level.frontOverRear.value / car.wheelbase,
  };
  return (
    <figure className={styles['plan']}>
      <svg
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label="The four pads from above, front up, with their heights and the bubble"
      >
        {CORNERS.map((corner) => {
          const { left, top } = at(places[corner]);
          const height = patch?.pads[corner].height ?? null;
          const mark = corner === highest ? 'high' : corner === lowest ? 'low' : '';
          return (
            <g key={corner} transform={`translate(${left} ${top})`} data-mark={mark}>
              <rect x={-PAD / 2} y={-PAD / 2} width={PAD} height={PAD} rx="8" />
              <text y="-8">{cornerLabel(corner, state.settings.cornerLabels)}</text>
              <text y="10" className={styles['height']}>
                {height ? signed(1000 * height.value, 2) : '—'}
              </text>
              <text y="24" className={styles['u']}>
                {height ? `±${fixed(1000 * height.u, 2)} mm` : ''}
              </text>
              {mark === '' ? null : (
                <path
                  d={mark === 'high' ? 'M0 -44l7 9h-14z' : 'M0 44l7 -9h-14z'}
                  className={styles['mark']}
                />
              )}
            </g>
          );
        })}
        <g transform={`translate(${middle.left} ${middle.top})`} className={styles['bubble']}>
          <circle r={RING} />
          <path d={`M${-RING - 6} 0h12M${RING - 6} 0h12M0 ${-RING - 6}v12M0 ${RING - 6}v12`} />
          {slopes ? (
            <circle
              r="9"
              className={styles['drop']}
              cx={-clamp(slopes.left / RING_SLOPE) * RING}
              cy={-clamp(slopes.forward / RING_SLOPE) * RING}
            />
          ) : null}
        </g>
      </svg>
      {patch ? (
        <figcaption>
          Twist {signed(1000 * patch.twist.value, 2)} ±{fixed(1000 * patch.twist.u, 2)} mm. Left
          over right {signed(1000 * patch.level.leftOverRight.value, 1)}, front over rear{' '}
          {signed(1000 * patch.level.frontOverRear.value, 1)} mm. The bubble runs to the high side;
          its ring is 1 mm over the track.
        </figcaption>
      ) : (
        <figcaption>Heights appear as sights are typed.</figcaption>
      )}
    </figure>
  );
};
