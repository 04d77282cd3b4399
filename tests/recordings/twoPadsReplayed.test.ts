import { readFileSync } from 'node:fs';
import { expect } from 'vitest';
import type { PadsEvent } from '../../core/bench/ports.ts';
import type { Corner } from '../../core/corners.ts';
import type { Fault } from '../../core/faults.ts';
import { SAMPLE_FLAGS, type PadSample } from '../../core/reading.ts';
import { createDrivenScheduler } from '../../core/scheduler.ts';
import { average } from '../../core/signal/average.ts';
import { createSettle } from '../../core/signal/settle.ts';
import { massFrom, second, STANDARD_GRAVITY } from '../../core/units.ts';
import { createPadsDriver } from '../../drivers/pads/padsDriver.ts';
import { createRandom } from '../../drivers/pads/rig/random.ts';
import {
  CORNER_PAD_MODEL,
  CORNER_PAD_UUIDS,
  encodeLoads,
  encodeRating,
} from '../../drivers/pads/protocol/cornerPad.ts';
import { createPlayer } from '../../drivers/pads/transport/player.ts';
import {
  deviceLine,
  headerLine,
  notificationLine,
  parseRecording,
} from '../../drivers/pads/transport/recording.ts';
import { sharedData } from '../support/sharedData.ts';

/**
 * A real recording, two load cells under the same weights, replayed as two pads through the whole
 * chain: recording, transport, link, codec, watch, clock, filter, settle, average.
 *
 * github mvsivaselvan/CIE324-Swing-Project @18a8bc80, calibration/LoadCellCalibrationData.txt, MIT;
 * counts per pound of each cell by an independent fit with a general numeric library.
 */
const source = sharedData('two-cells-10lb-steps.csv');

const CELLS = [
  { serial: 'CELL-A', column: 1, countsPerPound: 993.4, corner: 'LF' },
  { serial: 'CELL-B', column: 2, countsPerPound: 997.9, corner: 'RF' },
] as const;

/** Rows in which the weight on the cells stands still, read off the file, and the weight, lb. */
const PLATEAUS = [
  { from: 5, to: 333, pounds: 0 },
  { from: 356, to: 648, pounds: 10 },
  { from: 675, to: 821, pounds: 20 },
  { from: 843, to: 919, pounds: 30 },
  { from: 966, to: 1076, pounds: 40 },
  { from: 1098, to: 1147, pounds: 30 },
  { from: 1209, to: 1704, pounds: 20 },
  { from: 1733, to: 1827, pounds: 10 },
  { from: 1842, to: 2040, pounds: 0 },
] as const;

const RATE = 10;
const GLITCH_ROW = 326;

const readRows = (): readonly (readonly number[])[] =>
  readFileSync(source.file, 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(',').map(Number));

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

const asRecording = (rows: readonly (readonly number[])[]): string => {
  const lines = [headerLine()];
  for (const [index, { serial, countsPerPound }] of CELLS.entries()) {
    const readable = { canRead: true, canWrite: false, canNotify: false };
    lines.push(
      deviceLine(index, {
        key: serial,
        name: serial,
        services: [CORNER_PAD_MODEL.service],
        signal: null,
        characteristics: [
          { service: '180a', uuid: '2a25', ...readable, value: utf8(serial) },
          {
            service: CORNER_PAD_UUIDS.service,
            uuid: CORNER_PAD_UUIDS.rating,
            ...readable,
            // The rating the maker would give: the fit's span at 100 lb, so that 1 lb reads 1 lb.
            value: encodeRating({
              ratedLoad: Math.round(massFrom('lb', 100) * 10) / 10,
              countsAtRatedLoad: Math.round(countsPerPound * 100),
              resolution: 1,
            }),
          },
          {
            service: CORNER_PAD_UUIDS.service,
            uuid: CORNER_PAD_UUIDS.loads,
            canRead: false,
            canWrite: false,
            canNotify: true,
            value: null,
          },
        ],
      }),
    );
  }
  for (const [number, row] of rows.entries())
    for (const [device, { column }] of CELLS.entries())
      lines.push(
        notificationLine({
          ms: (number * 1000) / RATE,
          device,
          service: CORNER_PAD_UUIDS.service,
          uuid: CORNER_PAD_UUIDS.loads,
          bytes: encodeLoads({
            sequence: number,
            clockMs: (number * 1000) / RATE,
            rate: RATE,
            counts: [row[column] as number],
            flags: 0,
          }),
        }),
      );
  return `${lines.join('\n')}\n`;
};

interface Replayed {
  readonly samples: PadSample[];
  /** Samples taken while settled, one list per stretch of stillness. */
  readonly stretches: PadSample[][];
}

const letPromisesSettle = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

const replay = async (): Promise<{
  readonly pads: ReadonlyMap<string, Replayed>;
  readonly faults: readonly Fault[];
}> => {
  const parsed = parseRecording(asRecording(readRows()));
  if (!parsed.ok) throw new Error(`line ${parsed.line}: ${parsed.why}`);
  const scheduler = createDrivenScheduler();
  const pads = new Map<string, Replayed>(
    CELLS.map(({ serial }) => [serial, { samples: [], stretches: [] }]),
  );
  const settles = new Map<string, ReturnType<typeof settleOne>>(
    CELLS.map(({ serial, corner, countsPerPound }) => [serial, settleOne(corner, countsPerPound)]),
  );
  const faults: Fault[] = [];
  const driver = createPadsDriver({
    transport: createPlayer({ recording: parsed.recording, scheduler, isLooped: false }),
    scheduler,
    random: createRandom(1).uniform,
  });
  const stop = driver.start((event: PadsEvent) => {
    if (event.kind === 'fault') faults.push(event.fault);
    if (event.kind !== 'samples') return;
    const pad = pads.get(event.serial);
    const settle = settles.get(event.serial);
    if (!pad || !settle) throw new Error(`samples of ${event.serial}`);
    for (const sample of event.samples) {
      pad.samples.push(sample);
      settle(sample, pad.stretches);
    }
  });
  for (let step = 0; step < (2046 / RATE + 10) * 20; step += 1) {
    scheduler.advance(second(0.05));
    await letPromisesSettle();
  }
  const stopping = stop();
  scheduler.advance(second(5));
  await stopping;
  return { pads, faults };
};

/** Settles one cell alone: its stretches are the runs of samples that lie in a settled window. */
const settleOne = (corner: Corner, countsPerPound: number) => {
  const settle = createSettle().corners[corner];
  const newtonPerCount = (massFrom('lb', 1) * STANDARD_GRAVITY) / countsPerPound;
  let open: PadSample[] | null = null;
  return (sample: PadSample, stretches: PadSample[][]): void => {
    if (!(sample.flags & SAMPLE_FLAGS.spike)) settle.push(sample.t, sample.clean * newtonPerCount);
    if (settle.now().stillness !== 'settled') {
      open = null;
      return;
    }
    if (!open) {
      open = [];
      stretches.push(open);
    }
    open.push(sample);
  };
};

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] as number;

const spread = (values: readonly number[]): number =>
  values.length === 0 ? 0 : Math.max(...values) - Math.min(...values);

source.test(
  'two real load cells replayed: plateaus found, the glitch rejected and reported',
  async () => {
    const { pads, faults } = await replay();
    const rows = readRows();

    for (const { serial, column, countsPerPound } of CELLS) {
      const { samples, stretches } = pads.get(serial) as Replayed;
      // Every row but the last, which still waits for its right neighbour, came through as it is.
      expect(samples.map((sample) => sample.raw)).toEqual(
        rows.slice(0, samples.length).map((row) => row[column]),
      );
      expect(samples.length).toBeGreaterThanOrEqual(rows.length - 1);

      for (const { from, to, pounds } of PLATEAUS) {
        const inside = stretches.flat().filter(({ index }) => index >= from && index <= to);
        expect(inside.length, `${serial}: settled within ${pounds} lb`).toBeGreaterThan(10);
        const mean = average({
          t: inside.map(({ t }) => t),
          x: inside.map(({ clean }) => clean),
          flags: inside.map(({ flags }) => flags),
        })?.mean;
        const own = median(rows.slice(from, to + 1).map((row) => row[column] as number));
        const off = ((mean ?? Number.NaN) - own) / countsPerPound;
        expect(Math.abs(off), `${serial}: ${pounds} lb from row ${from}, off by lb`).toBeLessThan(
          0.05,
        );
      }
      // No stretch of stillness reaches over a step; the verdict falls ten times a second, so the two
      // samples before it may already move.
      for (const stretch of stretches) {
        const counts = stretch.slice(0, -2).map(({ clean }) => clean);
        expect(spread(counts)).toBeLessThan(5 * countsPerPound);
      }
    }

    const spikes = [...pads].flatMap(([serial, { samples }]) =>
      samples
        .filter(({ flags }) => flags & SAMPLE_FLAGS.spike)
        .map(({ index }) => ({ serial, index })),
    );
    // While weights are handled, a swing sampled ten times a second can look like a lone spike too.
    const atRest = spikes.filter(({ index }) =>
      PLATEAUS.some(({ from, to }) => index >= from && index <= to),
    );
    expect(atRest).toEqual([{ serial: 'CELL-B', index: GLITCH_ROW }]);
    const reported = faults.filter(({ code }) => code === 'spike-rejected');
    for (const { serial } of CELLS)
      expect(reported.filter(({ subject }) => subject === serial)).toHaveLength(
        spikes.filter((spike) => spike.serial === serial).length,
      );
  },
);
