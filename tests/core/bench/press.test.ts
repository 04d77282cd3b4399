import { expect, onTestFinished, test } from 'vitest';
import { createBench } from '../../../core/bench/bench.ts';
import type { PadsEvent, PadStatus } from '../../../core/bench/ports.ts';
import { createPressWatch } from '../../../core/bench/pressWatch.ts';
import { createDrivenScheduler } from '../../../core/scheduler.ts';
import { second } from '../../../core/units.ts';
import { padDescriptions } from '../../../drivers/pads/protocol/description/descriptionPort.ts';
import { createPapers } from '../../../electron/papers.ts';
import { FONT_FOLDER } from '../../support/fontFolder.ts';
import { ballastPort } from '../../../drivers/solver/ballastPort.ts';
import { openStore } from '../../../drivers/store/open.ts';
import { joinBench } from '../../support/benchScreen.ts';
import { temporaryFolder } from '../../support/temporaryFolder.ts';
import { testGuests } from '../../support/testGuests.ts';

/** "Press a pad": the pad whose load jumps becomes the corner that was asked for. */

test('a press must be firm and last; a knock, a slow drift and the load before do not count', () => {
  const watch = createPressWatch();
  const feed = (from: number, to: number, force: (t: number) => number): boolean => {
    let pressed = false;
    for (let t = from; t < to; t += 0.0125) pressed ||= watch.take('A', second(t), force(t));
    return pressed;
  };
  expect(feed(0, 1, () => 900)).toBe(false);
  expect(feed(1, 1.2, () => 1100)).toBe(false);
  expect(feed(1.2, 2, () => 900)).toBe(false);
  expect(feed(2, 60, (t) => 900 + t)).toBe(false);
  expect(feed(60, 61, () => 1010)).toBe(true);
});

const COUNTS_PER_NEWTON = 100;

const status = (serial: string): PadStatus => ({
  key: serial,
  serial,
  name: serial,
  model: 'corner-pad',
  firmware: null,
  rating: { ratedLoad: 500, countsAtRatedLoad: 500 * 9.80665 * COUNTS_PER_NEWTON, resolution: 1 },
  phase: 'live',
  phaseSince: second(0),
  signal: null,
  battery: null,
  temperature: null,
  rate: 80,
  received: 0,
  missing: 0,
  duplicates: 0,
  onFor: null,
  late: 0,
  faults: [],
});

test('four pads pressed one after the other stand at the four corners', async () => {
  const scheduler = createDrivenScheduler();
  const opened = openStore({
    dir: temporaryFolder(),
    wallClock: () => 0,
    newId: (() => {
      let n = 0;
      return () => `0190a0c0-0002-7000-8000-${String((n += 1)).padStart(12, '0')}`;
    })(),
    now: scheduler.now,
  });
  if (!opened.ok) throw new Error(opened.fault.code);
  let emit: (event: PadsEvent) => void = () => {};
  const done = async () => ({ ok: true as const });
  const bench = createBench({
    openPads: () => ({
      practice: null,
      pads: {
        start: (listener) => {
          emit = listener;
          return async () => {};
        },
        identify: done,
        setRate: done,
        lastPayload: () => null,
      },
    }),
    descriptions: padDescriptions,
    paper: createPapers(FONT_FOLDER),
    ballast: ballastPort,
    guests: testGuests({ scheduler, newId: () => '', wallClock: () => 0 }),
    store: opened.store,
    copies: null,
    machine: 'test',
    scheduler,
    wallClock: () => 0,
    newId: () => '0190a0c0-0003-7000-8000-000000000001',
    source: 'bluetooth',
    restarted: false,
  });
  const screen = joinBench(bench);
  onTestFinished(async () => {
    screen.leave();
    await bench.stop();
    opened.store.close();
  });
  const serials = ['D', 'B', 'A', 'C', 'E'];
  const sample = (serial: string, t: number, force: number): void => {
    const counts = force * COUNTS_PER_NEWTON;
    const at = {
      index: Math.round(t * 80),
      t: second(t),
      raw: counts,
      clean: counts,
      smooth: counts,
      flags: 0,
    };
    emit({ kind: 'samples', serial, samples: [at] });
  };
  const stand = (pressed: string | null, seconds: number): void => {
    const end = scheduler.now() + seconds;
    while (scheduler.now() < end) {
      scheduler.advance(second(0.0125));
      for (const serial of serials) sample(serial, scheduler.now(), serial === pressed ? 400 : 20);
    }
  };

  await new Promise((resolve) => setImmediate(resolve));
  emit({ kind: 'pads', pads: serials.map(status) });
  stand(null, 1);
  await screen.command({ do: 'ask for press', corner: 'LF' });
  stand(null, 0.5);
  const asked: (string | null)[] = [];
  for (const serial of ['A', 'A', 'B', 'C', 'D']) {
    stand(serial, 1);
    asked.push(screen.state.askingForPress);
    stand(null, 1);
  }
  // The second press on A is on a pad that has its corner: it is not taken for another.
  expect(asked).toEqual(['RF', 'RF', 'LR', 'RR', null]);
  expect(screen.state.assigned).toEqual({ LF: 'A', RF: 'B', LR: 'C', RR: 'D' });
  expect(screen.state.pads.find((pad) => pad.serial === 'E')?.corner).toBeNull();
});
