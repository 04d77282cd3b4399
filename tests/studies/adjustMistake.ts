import { perchesOf } from '../../core/adjust/adjuster.ts';
import { callProgress, watchCall, type CallVerdict } from '../../core/adjust/progress.ts';
import { sheetResponse, standingFrom } from '../../core/adjust/turnResponse.ts';
import { CORNERS, perCorner, type Corner } from '../../core/corners.ts';
import { measured } from '../../core/measured.ts';
import { createRandom } from '../../drivers/pads/rig/random.ts';
import { bounce, FRICTION, GRAVITY, lowered, read, studyCar } from './adjustCar.ts';

/** What a mechanic does with a call of half a turn. */
export const DEEDS = [
  'as called',
  'the wrong way',
  'at the other side',
  'at the other end',
] as const;
export type Deed = (typeof DEEDS)[number];

const SIDE: Readonly<Record<Corner, Corner>> = { LF: 'RF', RF: 'LF', LR: 'RR', RR: 'LR' };
const END: Readonly<Record<Corner, Corner>> = { LF: 'LR', RF: 'RR', LR: 'LF', RR: 'RF' };
/** Samples a second of a pad and standard deviation of each, N: 50 g, a bad day. */
const RATE = 80;
const SAMPLE_NOISE = 0.5;
/** A frame's loads are means over this long, s. */
const MEAN_OVER = 0.5;
/** Loads that the mechanic lays on the car while he turns, N, as half widths. */
const HAND = 60;

export interface Watched {
  readonly deed: Deed;
  /** Verdict two seconds after the wrench stopped. */
  readonly atTwoSeconds: CallVerdict;
  /** Whether a wrong sense was told at any time. */
  readonly toldWrong: boolean;
  /** Seconds from the wrench's stop to the first wrong sense that stayed; negative before it. */
  readonly toldAfter: number | null;
}

/** One call of half a turn on a car that was bounced, and what the loads say of it. */
export const watchDeed = (seed: number, deed: Deed): Watched => {
  const study = studyCar(seed);
  const crew = createRandom(seed, 21);
  const noise = createRandom(seed, 22);
  const car = lowered(study, seed);
  bounce(car, crew);
  const before = read(car, noise, false);
  const standing = standingFrom(study.sheet, before.loads.values, GRAVITY);
  if (!standing) throw new Error('the rig shows no car');
  const adjusters = perchesOf(study.sheet, {
    stepsPerTurn: 6,
    countedIn: 'turns',
    underLoad: true,
  });
  const response = sheetResponse(standing, adjusters, 'off');
  if (!response.ok) throw new Error(response.why);
  const corner = CORNERS[seed % 4] as Corner;
  const way = seed % 8 < 4 ? 1 : -1;
  const watched = watchCall({
    call: { corner, steps: 3 * way, turns: 0.5 * way },
    adjuster: adjusters[corner],
    response: response.response,
    before,
    friction: perCorner(() => FRICTION),
  });
  if ('ok' in watched) throw new Error(watched.why);

  const at = { 'at the other side': SIDE[corner], 'at the other end': END[corner] };
  const turned = deed === 'as called' || deed === 'the wrong way' ? corner : at[deed];
  const { push, step } = car.dynamics;
  push[1] = turned === 'LF' || turned === 'RF' ? 0.2 : -2.9;
  push[2] = turned === 'LF' || turned === 'LR' ? 0.9 : -0.9;
  car.turn(turned, deed === 'the wrong way' ? -0.5 * way : 0.5 * way);
  const stop = 1;
  const hand = crew.between(-HAND, HAND);
  const samples: (readonly number[])[] = [];
  let [next, told, firstTold] = [0, false, null as number | null];
  let verdict: CallVerdict = 'not begun';
  for (let t = 0; t < stop + 2; t += step) {
    // He leans on the car while the wrench turns, and lets go.
    push[0] = t < stop ? hand * Math.sin((Math.PI * t) / stop) : 0;
    car.advance();
    if (t < next) continue;
    next += 1 / RATE;
    samples.push(
      CORNERS.map((_, i) => (car.dynamics.loads[i] as number) + SAMPLE_NOISE * noise.normal()),
    );
    if (samples.length > MEAN_OVER * RATE) samples.shift();
    const count = samples.length;
    const now = perCorner((_, i) => {
      const mean = samples.reduce((sum, one) => sum + (one[i] as number), 0) / count;
      const squares = samples.reduce((sum, one) => sum + ((one[i] as number) - mean) ** 2, 0);
      return count < 3 ? null : measured(mean, Math.sqrt(squares / (count - 1) / count), count - 1);
    });
    const progress = callProgress(watched, now);
    if (!progress.ok) continue;
    verdict = progress.verdict;
    if (verdict === 'wrong sense') {
      told = true;
      firstTold ??= t - stop;
    } else firstTold = null;
  }
  return { deed, atTwoSeconds: verdict, toldWrong: told, toldAfter: firstTold };
};
