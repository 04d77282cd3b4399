import { CORNERS, type Corner, type PerCorner } from '../corners.ts';
import { twistForm } from './heights.ts';
import { bestPlane, EPSILON, on, type Plane, type Standing } from './leastWork.ts';
import { carry, liftAt } from './padMotion.ts';
import { wholeSteps } from './screwSteps.ts';

/**
 * Which screws to turn. Every foot of every pad is brought onto one plane that is level within what is
 * allowed; of all such planes the one is taken that needs the least work: turns, and screws gone to. Lengths in metre, axes as
 * in the survey; a turn up is positive.
 */

/** One screw foot of a pad. */
export interface Foot {
  readonly name: string;
  /** From the pad's centre, forward and to the left. */
  readonly x: number;
  readonly y: number;
  /** Rise of the foot's corner for one turn. */
  readonly pitch: number;
  /** Travel that is left upward and downward. */
  readonly up: number;
  readonly down: number;
}

/** A pad as it stands: three or four feet, its height where the wheel stands, and its tilt. */
export interface StandingPad {
  readonly feet: readonly Foot[];
  readonly height: number;
  /** Rise per metre forward and to the left, radian; 0 where the survey did not show it. */
  readonly forward: number;
  readonly left: number;
}

export interface ScrewQuestion {
  readonly pads: PerCorner<StandingPad>;
  /** Where the pads' centres stand on the ground plan. */
  readonly places: PerCorner<{ readonly x: number; readonly y: number }>;
  /** Largest slope of the plane that is still called level, radian. */
  readonly mostSlope: number;
  readonly onlyUpward: boolean;
  /** Part of a turn that a person can make. */
  readonly step: number;
  /** Thicknesses of packers at hand, each of them as often as needed. */
  readonly packers: readonly number[];
}

/** One screw to turn. */
export interface ScrewTurn {
  readonly pad: Corner;
  readonly foot: string;
  /** Up is positive; whole steps, but for a foot that follows. */
  readonly turns: number;
  /**
   * The fourth foot of a pad, which would make it wobble: wound clear first where it goes down, and
   * turned at the end until it just touches. Its turns only say what to expect.
   */
  readonly follows: boolean;
}

export type ScrewPlan =
  | {
      readonly ok: true;
      /** In the order to turn them; screws that stay are not in it. */
      readonly turns: readonly ScrewTurn[];
      /** Packer under a pad before its screws are turned, metre. */
      readonly packers: readonly { readonly pad: Corner; readonly thickness: number }[];
      /** Sum of the turns without their signs. */
      readonly work: number;
      /** Heights of the pads when all is done, over their mean. */
      readonly heights: PerCorner<number>;
    }
  | { readonly ok: false; readonly why: string; readonly next: string };

const standingOf = (
  { pads, places }: ScrewQuestion,
  packed: PerCorner<number>,
): readonly Standing[] =>
  CORNERS.flatMap((pad) => {
    const { feet, height, forward, left } = pads[pad];
    return feet.map((foot) => ({
      ...foot,
      pad,
      atX: places[pad].x + foot.x,
      atY: places[pad].y + foot.y,
      z: height + packed[pad] + forward * foot.x + left * foot.y,
    }));
  });

/** Packers under the pads, from none, those with the fewest pads and the least thickness first. */
const packings = (sizes: readonly number[]): readonly PerCorner<number>[] => {
  const each = [0, ...new Set(sizes)];
  const all: PerCorner<number>[] = [];
  for (const LF of each)
    for (const RF of each)
      for (const LR of each) for (const RR of each) all.push({ LF, RF, LR, RR });
  const cost = (one: PerCorner<number>): readonly [number, number] => [
    CORNERS.filter((corner) => one[corner] > 0).length,
    CORNERS.reduce((sum, corner) => sum + one[corner], 0),
  ];
  return all.toSorted((a, b) => {
    const [x, y] = [cost(a), cost(b)];
    return x[0] - y[0] || x[1] - y[1];
  });
};

/** The lowest pads may want a packer; one under the highest never helps. */
const helps = (packed: PerCorner<number>, pads: ScrewQuestion['pads']): boolean => {
  const highest = CORNERS.reduce((a, b) => (pads[b].height > pads[a].height ? b : a));
  return packed[highest] === 0;
};

/** The turns that bring the pads, packed so, near enough to a plane in whole steps. */
const turnsTo = (question: ScrewQuestion, plane: Plane, packed: PerCorner<number>): ScrewPlan => {
  const { pads, places, step, onlyUpward } = question;
  const wanted = (foot: Standing): number => (on(plane, foot) - foot.z) / foot.pitch;
  const standing = standingOf(question, packed);
  const carried = CORNERS.flatMap((pad) => {
    const one = carry(
      standing.filter((foot) => foot.pad === pad),
      wanted,
    );
    return one ? [{ pad, ...one }] : [];
  });
  const twist = twistForm({
    trackFront: places.LF.y - places.RF.y,
    trackRear: places.LR.y - places.RR.y,
  });
  const leaders = carried.flatMap((one) =>
    one.leaders.map((foot, i) => ({ pad: one.pad, foot, share: one.centre[i] as number })),
  );
  const steps = wholeSteps(
    leaders.map(({ pad, foot, share }) => ({
      wanted: wanted(foot) / step,
      most: Math.floor(foot.up / foot.pitch / step + EPSILON),
      least: onlyUpward ? 0 : -Math.floor(foot.down / foot.pitch / step + EPSILON),
      twist: share * step * foot.pitch * (twist[CORNERS.indexOf(pad)] as number),
    })),
    CORNERS.reduce(
      (sum, pad, i) => sum + (twist[i] as number) * (pads[pad].height + packed[pad]),
      0,
    ),
  );
  const stepsOf = new Map(leaders.map(({ foot }, i) => [foot, steps[i] as number]));
  const turns: ScrewTurn[] = [];
  const raised = carried.map((one) => {
    const { pad, follower } = one;
    const by = one.leaders.map((foot) => (stepsOf.get(foot) as number) * step);
    const lifts = one.leaders.map((foot, i) => (by[i] as number) * foot.pitch);
    one.leaders.forEach((foot, i) => {
      if (by[i] !== 0) turns.push({ pad, foot: foot.name, turns: by[i] as number, follows: false });
    });
    const rest = follower ? liftAt(one, lifts, follower) / follower.pitch : 0;
    if (follower && Math.abs(rest) > EPSILON)
      turns.push({ pad, foot: follower.name, turns: rest, follows: true });
    return pads[pad].height + packed[pad] + liftAt(one, lifts, { x: 0, y: 0 });
  });
  const mean = raised.reduce((sum, each) => sum + each, 0) / 4;
  const [LF = 0, RF = 0, LR = 0, RR = 0] = raised.map((each) => each - mean);
  // A follower must not hold its pad up while the others go down, nor lift it while they rise.
  const rank = ({ turns: by, follows }: ScrewTurn): number => (follows ? Math.sign(by) : 0);
  return {
    ok: true,
    turns: turns.toSorted((a, b) => rank(a) - rank(b) || Math.abs(b.turns) - Math.abs(a.turns)),
    packers: CORNERS.flatMap((pad) => (packed[pad] > 0 ? [{ pad, thickness: packed[pad] }] : [])),
    work: turns.reduce((sum, { turns: by }) => sum + Math.abs(by), 0),
    heights: { LF, RF, LR, RR },
  };
};

/** Plans the turns; refused, with the pad that stands in the way, where not even packers reach. */
export const planScrews = (question: ScrewQuestion): ScrewPlan => {
  const { pads } = question;
  const idle = CORNERS.find((corner) => !carry(pads[corner].feet, () => 0));
  if (idle)
    return {
      ok: false,
      why: `${idle}: a pad stands on three or four feet.`,
      next: 'Give its feet with the pads, with their places about the wheel.',
    };
  for (const packed of packings(question.packers)) {
    if (!helps(packed, pads)) continue;
    const plane = bestPlane(standingOf(question, packed), question);
    if (plane) return turnsTo(question, plane, packed);
  }
  const lowest = CORNERS.reduce((a, b) => (pads[b].height < pads[a].height ? b : a));
  const highest = CORNERS.reduce((a, b) => (pads[b].height > pads[a].height ? b : a));
  const apart = 1000 * (pads[highest].height - pads[lowest].height);
  return {
    ok: false,
    why: `The screws do not reach: ${highest} stands ${apart.toFixed(1)} mm above ${lowest}${question.packers.length > 0 ? ', and the packers at hand do not make it up' : ''}.`,
    next: `Move the patch to flatter ground, or put a packer of about ${Math.ceil(apart)} mm under ${lowest}.`,
  };
};

/** The list as it stands when some screws are done; a screw is named by pad and foot. */
export const screwsLeft = <T extends Pick<ScrewTurn, 'pad' | 'foot'>>(
  turns: readonly T[],
  done: readonly Pick<ScrewTurn, 'pad' | 'foot'>[],
): readonly T[] =>
  turns.filter(({ pad, foot }) => !done.some((screw) => screw.pad === pad && screw.foot === foot));
