import { setTimeout as pause } from 'node:timers/promises';
import { createPadsDriver } from '../../drivers/pads/padsDriver.ts';
import { createRandom } from '../../drivers/pads/rig/random.ts';
import { createRealScheduler } from '../../electron/clock.ts';
import { openAir } from './air.ts';
import { createCounterPad } from './counterPad.ts';
import { finishChild } from './runChild.ts';
import { compareStream, quantile, witnessStreams } from './streamWitness.ts';

/**
 * Four counter pads over real noble and real bleno, through the pads driver: a stretch undisturbed,
 * then three times one of them is cut off. Prints what came over.
 */

const STRETCH_MS = Number(process.argv[2] ?? 20_000);
const CUT_SECONDS = 3;
const CUTS = 3;
const LIVE_DEADLINE_MS = 20_000;
/** What was sent so shortly before the end of a stretch may still be on its way. */
const ON_ITS_WAY_MS = 300;

export interface FourPadsResult {
  /** How long until all four were live, ms. */
  readonly allLiveAfter: number;
  readonly stretch: readonly ReturnType<typeof compareStream>[];
  /** Samples the driver handed on in order, never twice, over the whole run. */
  readonly driverInOrder: boolean;
  readonly latency: { readonly p50: number; readonly p99: number; readonly max: number };
  /** From the end of each cut to the next sample, ms. */
  readonly backAfter: readonly number[];
  readonly afterCuts: ReturnType<typeof compareStream>;
  /** The three others, over the time of the cuts. */
  readonly others: readonly ReturnType<typeof compareStream>[];
  readonly links: readonly { readonly opened: number; readonly lost: number }[];
  readonly ends: readonly { readonly reason: number; readonly quietMs: number }[];
  readonly stopSettled: boolean;
  /** Names of timers that wait after the stop. */
  readonly timersLeft: readonly string[];
}

const pads = ['P-1', 'P-2', 'P-3', 'P-4'].map(createCounterPad);
const scheduler = createRealScheduler();
const air = await openAir(pads, { seed: 4, scheduler });
const witness = witnessStreams(air.transport);
const driver = createPadsDriver({
  transport: witness.transport,
  scheduler,
  random: createRandom(4).uniform,
});
const decoded = new Map<string, number[]>(pads.map((pad) => [pad.key, []]));
const live = new Set<string>();
const begun = performance.now();
const stop = driver.start((event) => {
  if (event.kind === 'samples')
    for (const sample of event.samples) decoded.get(event.serial)?.push(sample.raw);
  if (event.kind === 'pads')
    for (const pad of event.pads)
      if (pad.phase === 'live') live.add(pad.serial ?? '');
      else live.delete(pad.serial ?? '');
});

const until = async (what: string, isSo: () => boolean): Promise<void> => {
  const deadline = performance.now() + LIVE_DEADLINE_MS;
  while (!isSo()) {
    if (performance.now() > deadline) throw new Error(`not within the deadline: ${what}`);
    await pause(10);
  }
};

await until('four pads live', () => live.size === pads.length);
const allLiveAfter = performance.now() - begun;
const from = performance.now();
await pause(STRETCH_MS);
const to = performance.now() - ON_ITS_WAY_MS;
const stretch = pads.map((pad) => compareStream(pad.sentAt, decoded.get(pad.key) ?? [], from, to));
const latencies = pads
  .flatMap((pad) =>
    witness
      .arrivals(pad.key)
      .filter(({ at }) => at >= from)
      .map(({ number, at }) => at - (pad.sentAt.get(number) ?? NaN)),
  )
  .sort((a, b) => a - b);

const [victim, ...rest] = pads;
if (!victim) throw new Error('no pads');
const cutsFrom = performance.now();
const backAfter: number[] = [];
for (let cut = 1; cut <= CUTS; cut += 1) {
  const cutEnd = performance.now() + CUT_SECONDS * 1000;
  air.cut(victim.key, CUT_SECONDS);
  await until('the pad is lost', () => witness.links(victim.key).lost === cut);
  const silent = witness.arrivals(victim.key).length;
  await until('the pad is back', () => witness.arrivals(victim.key).length > silent);
  backAfter.push(performance.now() - cutEnd);
  await until('the pad is live', () => live.has(victim.key));
  await pause(1000);
}
const afterFrom = performance.now();
await pause(3000);
const end = performance.now() - ON_ITS_WAY_MS;
const raw = witness.arrivals(victim.key).map(({ number }) => number);

const result: Omit<FourPadsResult, 'stopSettled' | 'timersLeft'> = {
  allLiveAfter,
  stretch,
  driverInOrder: [...decoded.values()].every((numbers) =>
    numbers.every((number, index) => index === 0 || number > (numbers[index - 1] ?? 0)),
  ),
  latency: {
    p50: quantile(latencies, 0.5),
    p99: quantile(latencies, 0.99),
    max: quantile(latencies, 1),
  },
  backAfter,
  afterCuts: compareStream(victim.sentAt, raw, afterFrom, end),
  others: rest.map((pad) => compareStream(pad.sentAt, decoded.get(pad.key) ?? [], cutsFrom, end)),
  links: pads.map((pad) => ({ ...witness.links(pad.key) })),
  ends: [...air.ends],
};
const stopSettled = await Promise.race([stop().then(() => true), pause(5000, false)]);
finishChild({
  ...result,
  stopSettled,
  timersLeft: scheduler.waiting(),
} satisfies FourPadsResult);
