import type { ReactElement } from 'react';
import { sameFields, useFrame } from '../../live/useLive.tsx';
import type { Car } from '../../../core/sheet/car.ts';
import { cgView } from './balanceView.ts';
import type { PlanGeometry } from './planGeometry.ts';
import styles from './Plan.module.css';

/** A wheel from above, m: for the picture only. */
const WHEEL = { length: 0.62, width: 0.28 };
/** Half the body's width at its widest, as a part of half the track. */
const WAIST = 0.8;
/** Smallest ring that can still be seen round the bubble, px. */
const LEAST_RING = 13;

/** The hull, in px about the middle of the front axle; a shape of ours, its length from the car. */
const hull = (car: Car, scale: number): string => {
  const half = (Math.max(car.trackFront, car.trackRear) / 2) * scale;
  const long = car.wheelbase * scale;
  const m = (metres: number): number => metres * scale;
  const side = (s: 1 | -1): string => {
    const at = (part: number): number => s * part * half;
    return `C${at(0.4)} ${m(-0.7)} ${at(0.56)} ${m(-0.5)} ${at(0.6)} ${m(-0.05)}S${at(WAIST)} ${long * 0.3} ${at(WAIST)} ${long * 0.5}S${at(0.72)} ${long * 0.85} ${at(0.66)} ${long}S${at(0.5)} ${long + m(0.55)} 0 ${long + m(0.55)}`;
  };
  return `M0 ${m(-0.7)}${side(1)}M0 ${m(-0.7)}${side(-1)}`;
};

/** The mark of the centre of gravity: a bubble where it is, in a ring as wide as is known. */
const Bubble = ({ plan }: { readonly plan: PlanGeometry }): ReactElement | null => {
  const cg = useFrame(cgView, sameFields);
  if (!cg) return null;
  const x = plan.centre - cg.left * plan.scale;
  const y = plan.frontAxle + cg.behindFront * plan.scale;
  return (
    <g className={styles['bubble']} data-stale={cg.stale} transform={`translate(${x} ${y})`}>
      <circle r={Math.max(LEAST_RING, cg.ring * plan.scale)} className={styles['ring']} />
      <circle r="7.5" className={styles['drop']} />
      <path d="M-3.4 -2.4a4.4 4.4 0 0 1 3.2 -2" className={styles['glint']} />
    </g>
  );
};

/** The car from above, front up, to the scale of its wheelbase and tracks. */
export const CarDrawing = ({
  car,
  plan,
}: {
  readonly car: Car;
  readonly plan: PlanGeometry;
}): ReactElement => {
  const { scale, centre, frontAxle, rearAxle } = plan;
  const wheels = [
    { y: frontAxle, half: (car.trackFront / 2) * scale },
    { y: rearAxle, half: (car.trackRear / 2) * scale },
  ];
  const long = WHEEL.length * scale;
  const wide = WHEEL.width * scale;
  return (
    <svg className={styles['drawing']} width={plan.width} height={plan.height} aria-hidden="true">
      {wheels.map(({ y }) => (
        <path key={y} d={`M0 ${y}H${plan.width}`} className={styles['axle']} />
      ))}
      <path
        d={`M${centre} ${frontAxle - 0.62 * scale}V${rearAxle + 0.47 * scale}`}
        className={styles['middle']}
      />
      <path
        d={hull(car, scale)}
        transform={`translate(${centre} ${frontAxle})`}
        className={styles['hull']}
      />
      {wheels.flatMap(({ y, half }) =>
        [-1, 1].map((side) => (
          <rect
            key={`${y}${side}`}
            x={centre + side * half - wide / 2}
            y={y - long / 2}
            width={wide}
            height={long}
            rx={wide / 4}
            className={styles['wheel']}
          />
        )),
      )}
      <Bubble plan={plan} />
    </svg>
  );
};
