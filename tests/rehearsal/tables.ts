import type { Balance, Capture } from '../../core/contract/records.ts';
import { CORNERS, type PerCorner } from '../../core/corners.ts';
import type { Measured } from '../../core/measured.ts';

/** Captures as plain text, for a terminal: kilograms, percent, each with its standard uncertainty. */

interface Row {
  readonly name: string;
  readonly unit: string;
  readonly of: (capture: Capture) => Measured;
  readonly decimals: number;
}

const share =
  (of: (balance: Balance) => Measured) =>
  (capture: Capture): Measured => {
    const { value, u, dof } = of(capture.balance);
    return { value: 100 * value, u: 100 * u, dof };
  };

const ROWS: readonly Row[] = [
  ...CORNERS.map((corner): Row => ({
    name: corner,
    unit: 'kg',
    of: (capture) => capture.corners[corner].mass,
    decimals: 3,
  })),
  { name: 'total', unit: 'kg', of: (capture) => capture.balance.total, decimals: 3 },
  { name: 'front', unit: '%', of: share((balance) => balance.frontShare), decimals: 3 },
  { name: 'left', unit: '%', of: share((balance) => balance.leftShare), decimals: 3 },
  { name: 'cross', unit: '%', of: share((balance) => balance.crossShare), decimals: 3 },
];

const line = (name: string, value: string, u: string, unit: string): string =>
  `${name.padEnd(10)}${value.padStart(11)}  ±${u.padStart(7)} ${unit}`;

/** One capture: every row with its standard uncertainty. */
export const captureTable = (capture: Capture): string =>
  [
    `${capture.number}. ${capture.note}: ${capture.windowSeconds.toFixed(1)} s window, ${
      CORNERS.some((corner) => !capture.corners[corner].calibrated)
        ? 'NOT CALIBRATED'
        : 'calibrated'
    }, cross is ${capture.balance.cross}`,
    ...ROWS.map((row) => {
      const { value, u } = row.of(capture);
      return line(row.name, value.toFixed(row.decimals), u.toFixed(row.decimals), row.unit);
    }),
  ].join('\n');

/**
 * The change between two captures. The zeros are the same ones, so what they add to each capture
 * cancels in the change; the uncertainty printed leaves that out and is a little too large.
 */
export const changeTable = (before: Capture, after: Capture): string =>
  [
    `change, ${after.number} less ${before.number}`,
    ...ROWS.map((row) => {
      const [from, to] = [row.of(before), row.of(after)];
      const change = to.value - from.value;
      const sign = change < 0 ? '-' : '+';
      const u = Math.hypot(from.u, to.u).toFixed(row.decimals);
      return line(row.name, sign + Math.abs(change).toFixed(row.decimals), u, row.unit);
    }),
  ].join('\n');

/** How far the zeros went, by the check after raising. */
export const zeroShiftLine = (shift: PerCorner<number | null> | null): string =>
  `zero shift, kg: ${CORNERS.map((corner) => {
    const value = shift?.[corner] ?? null;
    return `${corner} ${value === null ? 'unknown' : value.toFixed(3)}`;
  }).join('  ')}`;
