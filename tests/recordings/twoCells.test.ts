import { expect } from 'vitest';
import { toForce, type Calibration } from '../../core/calibration/calibration.ts';
import { SAMPLE_FLAGS, type PadSample } from '../../core/reading.ts';
import { average } from '../../core/signal/average.ts';
import { createSettle } from '../../core/signal/settle.ts';
import { KILOGRAM_PER_POUND, second, STANDARD_GRAVITY } from '../../core/units.ts';
import { createFilter } from '../../drivers/pads/filter/filter.ts';
import { sharedData } from '../support/sharedData.ts';
import { readRows, type Row } from './recordedData.ts';

/**
 * Two load cells in series, 24-bit counts at about 10 Hz, weights of 10 lb added one by one and taken
 * off again; a glitch of the converter and drift are in it. Read through filter, force, settling and
 * average, as two pads would be.
 *
 * What it is held against is not ours: the counts per pound that others found with a general numeric
 * library, and medians of the raw rows of each plateau, whose ends were read off a plot of the file.
 */
const RATE = 10;
const COUNTS_PER_POUND = { cell_a: 993.4, cell_b: 997.9 } as const;
const NEWTON_PER_POUND = KILOGRAM_PER_POUND * STANDARD_GRAVITY;
type Cell = keyof typeof COUNTS_PER_POUND;

/** First and last row of each plateau, clear of the hands, and the weight that lay on it, lb. */
const PLATEAUS = [
  [0, 330, 0],
  [364, 640, 10],
  [676, 820, 20],
  [836, 915, 30],
  [964, 1080, 40],
  [1106, 1150, 30],
  [1178, 1700, 20],
  [1732, 1830, 10],
  [1846, 2045, 0],
] as const;

const median = (values: readonly number[]): number => {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length >> 1;
  const high = sorted[middle] as number;
  return sorted.length % 2 === 1 ? high : (high + (sorted[middle - 1] as number)) / 2;
};

const filtered = (counts: readonly number[]): PadSample[] => {
  const filter = createFilter({ rate: RATE });
  const out = counts.flatMap((raw, index) => {
    const done = filter.push({ index, t: second(index / RATE), raw, flags: 0 });
    return done ? [done] : [];
  });
  const last = filter.flush();
  return last ? [...out, last] : out;
};

/** Slope of the least-squares line of `y` over `x`. */
const slopeOf = (x: readonly number[], y: readonly number[]): number => {
  const meanX = x.reduce((sum, value) => sum + value, 0) / x.length;
  const meanY = y.reduce((sum, value) => sum + value, 0) / y.length;
  const top = x.reduce((sum, value, i) => sum + (value - meanX) * ((y[i] as number) - meanY), 0);
  return top / x.reduce((sum, value) => sum + (value - meanX) ** 2, 0);
};

interface Replay {
  readonly samples: Readonly<Record<Cell, readonly PadSample[]>>;
  readonly zero: Readonly<Record<Cell, number>>;
  readonly calibration: Readonly<Record<Cell, Calibration>>;
  /** Stretches over which both cells were settled, in seconds. */
  readonly stretches: readonly { readonly from: number; readonly to: number }[];
}

const replay = (rows: readonly Row[]): Replay => {
  const countsOf = (cell: Cell): number[] => rows.map((row) => Number(row[cell]));
  const samples = { cell_a: filtered(countsOf('cell_a')), cell_b: filtered(countsOf('cell_b')) };
  const calibrate = (cell: Cell): Calibration => ({
    id: cell,
    calibrated: true,
    coefficients: [NEWTON_PER_POUND / COUNTS_PER_POUND[cell]],
    uRelative: null,
  });
  const calibration = { cell_a: calibrate('cell_a'), cell_b: calibrate('cell_b') };
  const zeroOf = (cell: Cell): number => median(countsOf(cell).slice(0, 321));
  const zero = { cell_a: zeroOf('cell_a'), cell_b: zeroOf('cell_b') };

  // The same two cells under the left and the right corners: settling is of four.
  const settle = createSettle();
  const { LF, RF, LR, RR } = settle.corners;
  const stretches: { from: number; to: number }[] = [];
  let settled = false;
  for (let index = 0; index < rows.length; index += 1) {
    for (const [cell, corners] of [
      ['cell_a', [LF, LR]],
      ['cell_b', [RF, RR]],
    ] as const) {
      const sample = samples[cell][index] as PadSample;
      if (sample.flags & SAMPLE_FLAGS.spike) continue;
      const force = toForce(calibration[cell], zero[cell], sample.clean);
      for (const corner of corners) corner.push(sample.t, force);
    }
    const now = settle.now();
    if (now.settled) {
      const newest = stretches.at(-1);
      if (settled && newest) newest.to = now.settled.to;
      else stretches.push({ ...now.settled });
    }
    settled = now.settled !== null;
  }
  return { samples, zero, calibration, stretches };
};

const recording = sharedData('two-cells-10lb-steps.csv');

recording.describe('weights on and off two cells in series', () => {
  const rows = readRows(recording.file);

  recording.test('the one glitch is rejected and reported, and nothing else', () => {
    const spikes = (cell: Cell): number[] =>
      filtered(rows.map((row) => Number(row[cell])))
        .filter(({ flags }) => flags & SAMPLE_FLAGS.spike)
        .map(({ index }) => index);
    expect(spikes('cell_a')).toEqual([]);
    expect(spikes('cell_b')).toEqual([326]);
    const [glitch] = filtered(rows.map((row) => Number(row['cell_b']))).slice(326);
    expect(glitch?.raw).toBe(5715);
    expect(Math.abs((glitch?.clean ?? 0) - 11446)).toBeLessThan(100);
  });

  recording.test('the nine plateaus are found, and settled only on them', () => {
    const { stretches } = replay(rows);
    const weights: number[] = [];
    for (const { from, to } of stretches) {
      const on = PLATEAUS.find(
        ([first, last]) => from >= (first - 15) / RATE && to <= (last + 20) / RATE,
      );
      expect(on, `settled from ${from} to ${to} s`).toBeDefined();
      if (on && weights.at(-1) !== on[2]) weights.push(on[2]);
    }
    expect(weights).toEqual([0, 10, 20, 30, 40, 30, 20, 10, 0]);
  });

  recording.test('plateau means are within 0.05 lb of what others found', () => {
    const { samples, zero, calibration, stretches } = replay(rows);
    for (const cell of ['cell_a', 'cell_b'] as const) {
      const means: number[] = [];
      const counts: number[] = [];
      for (const [first, last] of PLATEAUS) {
        const settledOn = samples[cell].filter(
          ({ t }) =>
            t >= first / RATE &&
            t <= last / RATE &&
            stretches.some(({ from, to }) => t >= from && t <= to),
        );
        const found = average({
          t: settledOn.map(({ t }) => t),
          x: settledOn.map(({ clean }) => toForce(calibration[cell], zero[cell], clean)),
          flags: settledOn.map(({ flags }) => flags),
        });
        if (!found) throw new Error('no average');
        const pounds = found.mean / NEWTON_PER_POUND;
        means.push(pounds);
        counts.push(found.mean / (calibration[cell].coefficients[0] as number));

        // The same rows without any of our code: their median.
        const raw = rows.slice(first, last + 1).map((row) => Number(row[cell]));
        const reference = (median(raw) - zero[cell]) / COUNTS_PER_POUND[cell];
        expect(Math.abs(pounds - reference), `${cell} row ${first}`).toBeLessThan(0.05);
        // And no less honest than the drift within the plateau: 0.1 lb over the longest.
        expect(found.u / NEWTON_PER_POUND).toBeLessThan(0.05);
      }
      // Our own line through our means against theirs: 0.05 lb at the greatest weight.
      const ownSlope = slopeOf(
        PLATEAUS.map(([, , weight]) => weight),
        counts,
      );
      expect(Math.abs((40 * ownSlope) / COUNTS_PER_POUND[cell] - 40)).toBeLessThan(0.05);
      if (cell === 'cell_a') {
        // It comes back to zero 181 counts, 0.18 lb, low.
        const backToZero = (means.at(-1) as number) - (means[0] as number);
        expect(backToZero).toBeCloseTo(-0.18, 1);
        expect(Math.abs(backToZero * COUNTS_PER_POUND.cell_a + 181)).toBeLessThan(10);
      }
    }
  });
});
