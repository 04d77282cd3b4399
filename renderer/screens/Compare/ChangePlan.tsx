import type { ReactElement } from 'react';
import type { Comparison } from '../../../core/compare/compareItems.ts';
import { CORNERS } from '../../../core/corners.ts';
import type { Car } from '../../../core/sheet/car.ts';
import type { Item } from '../../../core/sheet/items.ts';
import styles from './Screen.module.css';

const WIDTH = 300;
const HEIGHT = 340;
/** Length of an arrow for a change of one limit, px; none is drawn longer than three. */
const LIMIT_PX = 26;

/**
 * The changes on the car from above, front up: at each wheel an arrow for its load (up is heavier), at
 * each reference point one for its height. Their lengths are the change in limits.
 */
export const ChangePlan = ({
  car,
  comparison,
  items,
}: {
  readonly car: Car;
  readonly comparison: Comparison;
  readonly items: ReadonlyMap<string, Item>;
}): ReactElement => {
  const scale = (HEIGHT - 120) / car.wheelbase;
  const at = (x: number, y: number) => ({ left: WIDTH / 2 - y * scale, top: 60 - x * scale });
  const wheels = CORNERS.map((corner) => ({
    id: `weight.${corner}`,
    ...at(
      corner === 'LF' || corner === 'RF' ? 0 : -car.wheelbase,
      ((corner === 'LF' || corner === 'RF' ? car.trackFront : car.trackRear) / 2) *
        (corner === 'LF' || corner === 'LR' ? 1 : -1),
    ),
  }));
  const points = (car.details?.heightPoints ?? []).map(({ id, x, y }) => ({
    id: `height.${id}`,
    ...at(x, y),
  }));
  const arrow = ({ id, left, top }: { id: string; left: number; top: number }) => {
    const item = comparison.items.find((each) => each.id === id);
    if (!item) return null;
    const size = Math.max(-3, Math.min(3, item.change.value / item.limit)) * LIMIT_PX;
    const head = Math.sign(size) * Math.min(9, Math.abs(size));
    return (
      <g key={id} data-verdict={item.verdict} transform={`translate(${left} ${top})`}>
        <title>{items.get(id)?.label ?? id}</title>
        <path d={`M0 0V${-size}`} />
        {Math.abs(size) < 2 ? (
          <path d="M-7 0h14" />
        ) : (
          <path d={`M-6 ${-size + head}L0 ${-size}L6 ${-size + head}`} />
        )}
      </g>
    );
  };
  return (
    <figure className={styles['plan']}>
      <svg
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label="Changes on the car from above, front up; arrows up are heavier and higher"
      >
        {wheels.map(({ id, left, top }) => (
          <rect
            key={id}
            x={left - 11}
            y={top - 26}
            width="22"
            height="52"
            rx="6"
            className={styles['wheel']}
          />
        ))}
        <g className={styles['loads']}>{wheels.map(arrow)}</g>
        <g className={styles['heights']}>{points.map(arrow)}</g>
      </svg>
      <figcaption>
        At the wheels load, inside ride height: up is heavier and higher, a wheel’s half length is
        one limit.
      </figcaption>
    </figure>
  );
};
