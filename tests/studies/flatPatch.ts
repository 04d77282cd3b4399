import { perCorner, type PerCorner } from '../../core/corners.ts';
import { shapeOf } from '../../core/flatPatch/heights.ts';
import { levelPatch } from '../../core/flatPatch/levelPatch.ts';
import {
  planScrews,
  type Foot,
  type ScrewTurn,
  type StandingPad,
} from '../../core/flatPatch/screws.ts';
import { feetOf } from '../../core/flatPatch/surveyPlan.ts';
import { EXAMPLE_CAR } from '../../core/sheet/car.ts';
import { studentT } from '../../core/signal/studentT.ts';
import { padPoints, readSurvey, type TruePad } from '../core/flatPatch/simulatedPatch.ts';
import { createNoise, type Noise } from '../core/signal/noise.ts';
import type { Study } from './study.ts';

/** Ground that slopes, pads thrown on it: surveyed, levelled by people, surveyed again. */

const SEEDS = 500;
const SLOPE = (0.3 * Math.PI) / 180;
const OUT = 0.008;
const SIGHT_SD = 1e-4;
const WANTED = 1e-4;
const ROUNDS = 2;
/** M12 screws (ISO 261). */
const PITCH = 0.00175;
const TRAVEL = 0.04;
/** People turn to a twelfth, miss it by 4° and by a hundredth of the way; common practice, no source. */
const STEP = 1 / 12;
const TURN_ERROR = 0.01;
const WAY_ERROR = 0.01;

const { wheelbase, trackFront, trackRear } = EXAMPLE_CAR;
const PLACES = perCorner((corner) => ({
  x: corner === 'LF' || corner === 'RF' ? 0 : -wheelbase,
  y:
    ((corner === 'LF' || corner === 'RF' ? trackFront : trackRear) / 2) *
    (corner === 'LF' || corner === 'LR' ? 1 : -1),
}));

const between = (noise: Noise, reach: number): number => reach * (2 * noise.uniform() - 1);

const thrown = (noise: Noise): PerCorner<TruePad> => {
  const [forward, left] = [between(noise, SLOPE), between(noise, SLOPE)];
  return perCorner((corner) => ({
    height: forward * PLACES[corner].x + left * PLACES[corner].y + between(noise, OUT),
    forward: forward + between(noise, 0.002),
    left: left + between(noise, 0.002),
  }));
};

/** The plane through three feet that stand at these heights (Cramer). */
const planeOn = (feet: readonly Foot[], heights: readonly number[]): TruePad => {
  const [a, b, c] = feet as [Foot, Foot, Foot];
  const [za = 0, zb = 0, zc = 0] = heights;
  const area = (b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y);
  const forward = ((zb - za) * (c.y - a.y) - (zc - za) * (b.y - a.y)) / area;
  const left = ((b.x - a.x) * (zc - za) - (c.x - a.x) * (zb - za)) / area;
  return { height: za - forward * a.x - left * a.y, forward, left };
};

/** The pad after people turned its feet; a fourth one was turned until it touched. */
const turned = (
  pad: TruePad,
  feet: readonly Foot[],
  asked: readonly ScrewTurn[],
  noise: Noise,
): TruePad => {
  const follower = asked.find(({ follows }) => follows)?.foot ?? feet[3]?.name;
  const leaders = feet.filter(({ name }) => name !== follower);
  return planeOn(
    leaders,
    leaders.map(({ name, x, y, pitch }) => {
      const by = asked.find(({ foot }) => foot === name)?.turns ?? 0;
      const made =
        by === 0 ? 0 : by + TURN_ERROR * noise.normal() + WAY_ERROR * by * noise.normal();
      return pad.height + pad.forward * x + pad.left * y + pitch * made;
    }),
  );
};

const survey = (pads: PerCorner<TruePad>, noise: Noise) =>
  levelPatch(
    EXAMPLE_CAR,
    readSurvey(pads, { points: padPoints(5), repeats: 3, noise, sd: SIGHT_SD }),
  );

/** What a team saw and what was true, of one thrown patch. */
interface Levelled {
  /** Rounds of turning that it took. */
  readonly rounds: number;
  /** True twist at the end, metre. */
  readonly twist: number;
  /** Of each survey, the last too: whether its 95 % interval of the twist held the true one. */
  readonly held: readonly boolean[];
}

/** Patches on three feet and on four take turns, as do any way and only upward. */
const levelled = (seed: number): Levelled | null => {
  const noise = createNoise(seed);
  const feet = feetOf(seed % 2 === 0 ? 4 : 3, { pitch: PITCH, travel: TRAVEL });
  let pads = thrown(noise);
  const held: boolean[] = [];
  for (let round = 0; ; round += 1) {
    const found = survey(pads, noise);
    if (!found.ok) return null;
    const truth = shapeOf(
      EXAMPLE_CAR,
      perCorner((corner) => pads[corner].height),
    ).twist;
    const half = studentT(0.05, Math.max(1, found.twist.dof)) * found.twist.u;
    held.push(Math.abs(found.twist.value - truth) <= half);
    if (round === ROUNDS || Math.abs(found.twist.value) < WANTED / 2)
      return { rounds: round, twist: truth, held };
    const plan = planScrews({
      pads: perCorner((corner): StandingPad => {
        const { height, tilt } = found.pads[corner];
        return {
          feet,
          height: height.value,
          forward: tilt?.forward.value ?? 0,
          left: tilt?.left.value ?? 0,
        };
      }),
      places: PLACES,
      mostSlope: 0.001 / trackFront,
      onlyUpward: seed % 4 >= 2,
      step: STEP,
      packers: [],
    });
    if (!plan.ok) return null;
    pads = perCorner((corner) =>
      turned(
        pads[corner],
        feet,
        plan.turns.filter(({ pad }) => pad === corner),
        noise,
      ),
    );
  }
};

/** How many thrown patches came to a twist within 0.1 mm, and how often what was shown was true. */
export const levelAll = (seeds: readonly number[]) => {
  const found = seeds.map(levelled);
  const shown = found.flatMap((one) => one?.held ?? []);
  const last = found.map((one) => one?.held.at(-1) ?? false);
  return {
    patches: seeds.length,
    within: found.filter((one) => one && Math.abs(one.twist) <= WANTED).length,
    rounds: Math.max(...found.map((one) => one?.rounds ?? Infinity)),
    shown: shown.length,
    held: shown.filter(Boolean).length,
    heldLast: last.filter(Boolean).length,
  };
};

export const study: Study = {
  name: 'flatPatch',
  about:
    'twist at most 0.1 mm in 90 % of 500 thrown patches after at most two rounds, its 95 % interval true in 93 to 97 %',
  run: (share, say) => {
    const seeds = Array.from({ length: Math.ceil(share * SEEDS) }, (_, index) => index + 1);
    const { patches, within, rounds, shown, held, heldLast } = levelAll(seeds);
    const percent = (part: number, of: number): string => `${((100 * part) / of).toFixed(1)} %`;
    say(
      `twist within 0.1 mm: ${percent(within, patches)} of ${patches}, in at most ${rounds} rounds`,
    );
    say(`the interval held the truth: ${percent(held, shown)} of all ${shown} surveys`);
    say(`of the last surveys, most of them kept for being small: ${percent(heldLast, patches)}`);
  },
};
