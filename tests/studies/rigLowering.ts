import { CORNERS, perCorner } from '../../core/corners.ts';
import { createEarly, type EarlyLook } from '../../core/signal/early/early.ts';
import { averageFour, type FourAverage } from '../../core/signal/averageFour.ts';
import { createSettle } from '../../core/signal/settle.ts';
import { EXAMPLE_CAR, EXAMPLE_CAR_MASS } from '../../core/sheet/car.ts';
import { createPracticeCar } from '../../drivers/pads/rig/practiceCar.ts';
import { createRandom } from '../../drivers/pads/rig/random.ts';

/** One lowering of the practice rig's car, with what both estimators said on the way. */
export interface Lowering {
  /** Loads at rest, long after, N, in the order of the corners. */
  readonly rest: readonly number[];
  /** Every look of the early estimator, with its time since the jack began to go down. */
  readonly looks: readonly { readonly at: number; readonly look: EarlyLook }[];
  /** The first window in which all four were settled after the car had come down; null for never. */
  readonly waited: {
    readonly at: number;
    readonly four: FourAverage;
    /** Mean true loads over the window, N. */
    readonly truths: readonly number[];
  } | null;
}

export interface LoweringOptions {
  /** Standard deviation of a sample, N. */
  readonly noise: number;
  /** Friction of a strut at the wheel, N. */
  readonly friction: number;
  /** Seconds between looks of the early estimator. */
  readonly every: number;
}

const GRAVITY = 9.813654;
const RATE = 80;
const PER_PACKET = 2;
const STILL_BEFORE = 2;
/** The jack takes three seconds; by then the car has stood on its wheels for one. */
const LATEST = 14;
const REST_AFTER = 25;
/** Chance of a packet to be lost. */
const LOST = 0.005;
const PAD_HEIGHT_ERROR = 1e-4;

/**
 * Lowers the rig's own car (its dynamics, jack, friction and relaxing parts) on ideal pads with white
 * noise, whose samples carry the times that the wire gives them: whole milliseconds for each packet.
 * What pads add for minutes (zero, span, creep) is left out: it is another term of the budget.
 */
export const lowerOnce = (seed: number, options: LoweringOptions): Lowering => {
  const { noise, friction, every } = options;
  const crew = createRandom(seed, 1);
  const chance = createRandom(seed, 2);
  const car = createPracticeCar({
    car: EXAMPLE_CAR,
    mass: EXAMPLE_CAR_MASS,
    bars: 'off',
    gravity: GRAVITY,
    padHeights: perCorner(() => crew.between(-PAD_HEIGHT_ERROR, PAD_HEIGHT_ERROR)),
    seatsBefore: { LF: 0.5e-3, RF: -0.5e-3, LR: -0.1e-3, RR: 0.4e-3 },
    friction,
    random: crew,
  });
  const { dynamics } = car;
  const early = createEarly();
  const settle = createSettle();
  const looks: { at: number; look: EarlyLook }[] = [];
  const heard = CORNERS.map(() => [] as { t: number; load: number; force: number }[]);
  const next = CORNERS.map(() => chance.uniform() / RATE);
  const count = CORNERS.map(() => 0);
  const packetTime = CORNERS.map(() => 0);
  const isLost = CORNERS.map(() => false);
  let waited: Lowering['waited'] = null;
  let lookAt = STILL_BEFORE;
  let steps = 0;
  let t = 0;
  let isDown = false;
  /** When all four wheels stood on their pads, on the samples' clock. */
  let stoodAt = Infinity;

  const convert = (pad: number, at: number): void => {
    const corner = CORNERS[pad];
    if (!corner) return;
    const place = (count[pad] as number) % PER_PACKET;
    if (place === 0) {
      packetTime[pad] = Math.round(at * 1000) / 1000;
      isLost[pad] = chance.uniform() < LOST;
    }
    count[pad] = (count[pad] as number) + 1;
    const load = dynamics.loads[pad] as number;
    const force = load + noise * chance.normal();
    if (isLost[pad]) return;
    const stamp = (packetTime[pad] as number) + place / RATE;
    early.corners[corner].push(stamp, force);
    settle.corners[corner].push(stamp, force);
    if (isDown) heard[pad]?.push({ t: stamp, load, force });
  };

  while (t < STILL_BEFORE + REST_AFTER) {
    if (!isDown && t >= STILL_BEFORE) {
      isDown = true;
      car.lower();
    }
    car.advance();
    steps += 1;
    t = steps * dynamics.step;
    const since = t - STILL_BEFORE;
    if (since > LATEST) continue;
    for (let pad = 0; pad < CORNERS.length; pad += 1)
      while ((next[pad] as number) <= t) {
        convert(pad, next[pad] as number);
        next[pad] = (next[pad] as number) + 1 / RATE;
      }
    if (t < lookAt) continue;
    lookAt += every;
    if (stoodAt === Infinity && dynamics.loads.every((load) => load > 0)) stoodAt = t;
    if (stoodAt === Infinity || waited) continue;
    looks.push({ at: since, look: early.look() });
    const { settled } = settle.now();
    if (!settled || settled.from <= stoodAt) continue;
    const inside = heard.map((one) =>
      one.filter(({ t: stamp }) => stamp > settled.from && stamp <= settled.to),
    );
    const four = averageFour(
      perCorner((_, pad) => ({
        t: (inside[pad] ?? []).map((one) => one.t),
        x: (inside[pad] ?? []).map((one) => one.force),
      })),
    );
    if (!four) continue;
    const truths = inside.map((one) => one.reduce((sum, { load }) => sum + load, 0) / one.length);
    waited = { at: since, four, truths };
  }
  return { rest: [...dynamics.loads], looks, waited };
};
