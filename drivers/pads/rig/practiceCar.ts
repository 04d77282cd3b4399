import type { PracticePort, PracticeState } from '../../../core/bench/ports.ts';
import { CORNERS, inOrder, perCorner, type Corner, type PerCorner } from '../../../core/corners.ts';
import type { Car } from '../../../core/sheet/car.ts';
import { everyCorner, USUAL_DAMPING, type CarMass } from './carBuild.ts';
import { createCarDynamics, DROOP_TRAVEL, type CarDynamics } from './carDynamics.ts';
import type { Random } from './random.ts';

/**
 * The hands on the practice car: a jack, four perches and somebody at the rear wing, all moving at
 * the pace of people. What they do is common practice without a source.
 */
export interface PracticeCar extends Pick<PracticePort, 'lower' | 'raise' | 'turn' | 'lean'> {
  readonly dynamics: CarDynamics;
  /** Moves car and hands on by one step of the dynamics. */
  advance(): void;
  /** What the car does and how its perches stand; the pads are the rig's. */
  state(): Omit<PracticeState, 'masses' | 'stack' | 'runs'>;
  /** Moves a spring seat without its perch: metre at the spring, up positive. */
  moveSeat(corner: Corner, by: number): void;
  /** Seat heights at the wheel as they stand now, metre from the reference. */
  seats(): PerCorner<number>;
}

export interface PracticeCarOptions {
  readonly car: Car;
  readonly mass: CarMass;
  readonly bars: 'on' | 'off';
  /** m/s² */
  readonly gravity: number;
  /** Metre, up positive. */
  readonly padHeights: PerCorner<number>;
  /** Seat heights at the wheel with all perches at turn zero: how the car was set before. Metre. */
  readonly seatsBefore: PerCorner<number>;
  /** Friction of a strut at the wheel, N; each strut has its own share of it. */
  readonly friction: number;
  readonly random: Random;
}

const LOWERING_TIME = 3;
const RAISING_TIME = 4;
/** Heights of the jack over the reference: wheels well clear, and the body left behind. */
const JACK_UP = DROOP_TRAVEL + 0.055;
const JACK_DOWN = -0.06;
const TURNS_PER_SECOND = 0.5;
/** Share by which a strut's friction differs from one lowering to the next. */
const FRICTION_SCATTER = 0.2;
/** Share of a wheel rate that relaxes, before each strut's own factor. */
const RELAXING_SHARE = 0.03;
/**
 * A person leaning: newton, where (behind the axle, left), and how fast the hand comes and goes.
 */
const LEANING = { force: 180, behind: 0.45, left: 0.25, comes: 0.5 } as const;
/** Swaying of that person: share of the force and seconds of a sway. */
const SWAY = { share: 0.05, time: 1.5 } as const;

const smoothStep = (p: number): number => p * p * (3 - 2 * p);

/** Builds the car standing raised, at rest on its jack. */
export const createPracticeCar = (options: PracticeCarOptions): PracticeCar => {
  const { car, random } = options;
  const friction = perCorner(() => options.friction * random.between(0.7, 1.3));
  const dynamics = createCarDynamics({
    car,
    mass: options.mass,
    bars: options.bars,
    gravity: options.gravity,
    friction,
    relaxing:
      options.friction === 0
        ? everyCorner(0)
        : perCorner(() => RELAXING_SHARE * random.between(0.5, 1.5)),
    damping: USUAL_DAMPING,
  });
  dynamics.pads.set(inOrder(options.padHeights));

  const perTurn = CORNERS.map((corner) => car.perchPitch / car.motionRatios[corner]);
  const before = Float64Array.from(inOrder(options.seatsBefore));
  const asked = new Float64Array(4);
  const turned = new Float64Array(4);
  dynamics.push[1] = -(car.wheelbase + LEANING.behind);
  dynamics.push[2] = LEANING.left;
  /** [part of the stroke that is left: 1 up, 0 away; hand on the wing 0..1; sway] */
  const hands = Float64Array.of(1, 0, 0);
  let jackMoves: 'up' | 'down' | 'still' = 'still';
  let leaning = false;
  /** How far the front is ahead of the rear, as part of the stroke: never twice the same. */
  let lead = 0;
  let strokeTime = LOWERING_TIME;

  const setJack = (): void => {
    const left = hands[0] as number;
    for (let axle = 0; axle < 2; axle += 1) {
      const p = Math.min(
        1,
        Math.max(0, left + (axle === 0 ? -lead : lead) * 4 * left * (1 - left)),
      );
      dynamics.jack[axle] =
        left === 0 ? -Infinity : JACK_DOWN + (JACK_UP - JACK_DOWN) * smoothStep(p);
    }
  };
  const setSeats = (): void => {
    for (let i = 0; i < 4; i += 1)
      dynamics.seats[i] = (before[i] as number) + (turned[i] as number) * (perTurn[i] as number);
  };

  const advance = (): void => {
    const { step } = dynamics;
    if (jackMoves !== 'still') {
      const by = step / strokeTime;
      const left = (hands[0] as number) + (jackMoves === 'up' ? by : -by);
      hands[0] = Math.min(1, Math.max(0, left));
      if (left <= 0 || left >= 1) jackMoves = 'still';
      setJack();
    }
    for (let i = 0; i < 4; i += 1) {
      const rest = (asked[i] as number) - (turned[i] as number);
      if (rest === 0) continue;
      const most = TURNS_PER_SECOND * step;
      turned[i] =
        Math.abs(rest) <= most
          ? (asked[i] as number)
          : (turned[i] as number) + Math.sign(rest) * most;
      setSeats();
    }
    const hand = hands[1] as number;
    if (leaning || hand > 0) {
      hands[1] = Math.min(1, Math.max(0, hand + ((leaning ? 1 : -1) * step) / LEANING.comes));
      // Ornstein-Uhlenbeck: a person sways about a mean, with no period.
      hands[2] =
        (hands[2] as number) * (1 - step / SWAY.time) +
        Math.sqrt((2 * step) / SWAY.time) * random.normal();
      dynamics.push[0] =
        LEANING.force * smoothStep(hands[1] as number) * (1 + SWAY.share * (hands[2] as number));
    }
    dynamics.advance();
  };

  const carState = (): PracticeState['car'] => {
    if (jackMoves === 'up') return 'raising';
    if (jackMoves === 'down') return 'lowering';
    return hands[0] === 0 ? 'on the pads' : 'raised';
  };
  const move = (to: 'up' | 'down', end: number, time: number): void => {
    if (hands[0] === end || jackMoves === to) return;
    jackMoves = to;
    strokeTime = time * random.between(0.9, 1.1);
    lead = random.between(-0.06, 0.06);
    CORNERS.forEach((corner, i) => {
      const scatter = Math.max(-0.5, Math.min(0.5, FRICTION_SCATTER * random.normal()));
      dynamics.friction[i] = friction[corner] * (1 + scatter);
    });
  };

  setSeats();
  setJack();
  dynamics.lift(JACK_UP);
  for (let t = 0; t < 5; t += dynamics.step) dynamics.advance();

  return {
    dynamics,
    advance,
    lower: () => move('down', 0, LOWERING_TIME),
    raise: () => move('up', 1, RAISING_TIME),
    turn: (corner: Corner, turns: number) => {
      if (!Number.isFinite(turns)) throw new RangeError(`not a number of turns: ${turns}`);
      const i = CORNERS.indexOf(corner);
      asked[i] = (asked[i] as number) + turns;
    },
    moveSeat: (corner, by) => {
      const i = CORNERS.indexOf(corner);
      before[i] = (before[i] as number) + by / car.motionRatios[corner];
      setSeats();
    },
    lean: (on) => {
      leaning = on;
    },
    state: () => ({ car: carState(), leaning, turns: perCorner((_, i) => asked[i] as number) }),
    seats: () => perCorner((_, i) => dynamics.seats[i] as number),
  };
};
