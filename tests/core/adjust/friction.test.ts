import { describe, expect, test } from 'vitest';
import { frictionBand, needsSettle, type Approach } from '../../../core/adjust/frictionBand.ts';
import { frictionAsSeats } from '../../../core/adjust/friction.ts';
import { measured } from '../../../core/measured.ts';
import { bounce, FRICTION as RIG_FRICTION, lowered, studyCar } from '../../studies/adjustCar.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';
import { createCarDynamics } from '../../../drivers/pads/rig/carDynamics.ts';
import { everyCorner, USUAL_DAMPING } from '../../../drivers/pads/rig/carBuild.ts';
import { statics } from '../../../core/adjust/statics.ts';
import { CORNERS } from '../../../core/corners.ts';
import { EXAMPLE_CAR, EXAMPLE_CAR_MASS } from '../../../core/sheet/car.ts';
import { STANDARD_GRAVITY } from '../../../core/units.ts';
import { NONE, standingCar } from './exampleAdjust.ts';

const at = (warp: number, turns: number, from: Approach['from']): Approach => ({
  warp: measured(warp, 0.3, 50),
  turns,
  from,
});
const PER_TURN = { value: 60, u: 6 };

describe('the band between the two directions', () => {
  test('from both sides of the same turns: band and middle', () => {
    const found = frictionBand([at(104, 1, 'up'), at(96, 1, 'down')], PER_TURN, 20);
    expect(found?.band?.value).toBeCloseTo(8, 1);
    expect(found?.middle.value).toBeCloseTo(100, 1);
    expect(found?.middle.u).toBeLessThan(0.4);
  });
  test('from turns apart, with a turn’s worth known', () => {
    // up to 1 turn: 104; up to 2: 164; back to 1: 96. The turn's worth of 60 is learnt on the way.
    const found = frictionBand(
      [at(104, 1, 'up'), at(164, 2, 'up'), at(96, 1, 'down')],
      { value: 55, u: 20 },
      20,
    );
    expect(found?.band?.value).toBeCloseTo(8, 1);
    expect(found?.middle.value).toBeCloseTo(100, 1);
  });
  test('an adjuster that lowers the warp when turned up has it the other way round', () => {
    const found = frictionBand([at(96, 1, 'up'), at(104, 1, 'down')], { value: -60, u: 6 }, 20);
    expect(found?.band?.value).toBeCloseTo(8, 1);
    expect(found?.middle.value).toBeCloseTo(100, 1);
  });
  test('from one side alone there is no band, and the middle is in doubt', () => {
    const one = frictionBand([at(96, 1, 'up')], PER_TURN, 20);
    expect(one?.band).toBeNull();
    // Half of a band within ±20, rectangular: 20/√3/2.
    expect(one?.middle.u).toBeCloseTo(Math.hypot(20 / Math.sqrt(3) / 2, 0.3), 6);
    expect(one?.middle.value).toBeCloseTo(96, 6);
  });
  test('a settle is asked for while the doubt is large, and no longer once both were seen', () => {
    const one = frictionBand([at(96, 1, 'up')], PER_TURN, 20);
    const both = frictionBand([at(104, 1, 'up'), at(96, 1, 'down')], PER_TURN, 20);
    const settled = frictionBand([at(96, 1, 'up'), at(100, 1, 'settled')], PER_TURN, 20);
    if (!one || !both || !settled) throw new Error('no band');
    expect([one, both, settled].map((each) => needsSettle(each, 8))).toEqual([true, false, false]);
    expect(needsSettle(one, 40)).toBe(false);
    expect(frictionBand([], PER_TURN, 20)).toBeNull();
  });
});

describe('on the practice rig', () => {
  /** Moves a seat slowly and waits, with no bounce. */
  const crawl = (car: ReturnType<typeof createCarDynamics>, to: number): void => {
    const from = car.seats[1] as number;
    for (let t = 0; t < 8; t += car.step) {
      car.seats[1] = from + (to - from) * Math.min(1, t / 2);
      car.advance();
    }
  };
  test('a seat that came from below and from above rests apart by the band, statics in the middle', () => {
    const car = createCarDynamics({
      car: EXAMPLE_CAR,
      mass: EXAMPLE_CAR_MASS,
      bars: 'off',
      gravity: STANDARD_GRAVITY,
      friction: everyCorner(20),
      relaxing: everyCorner(0),
      damping: USUAL_DAMPING,
    });
    const perMetre = 42.235e3;
    crawl(car, -3e-3);
    const rests: Approach[] = [];
    for (const [seat, from] of [
      [0, 'up'],
      [3e-3, 'up'],
      [0, 'down'],
    ] as const) {
      crawl(car, seat);
      // The warp at the right front gains when its seat goes up.
      rests.push(at(car.loads[1] as number, seat * 1e3, from));
    }
    const found = frictionBand(rests, { value: perMetre * 1e-3, u: 8 }, 40);
    const level = statics(standingCar(EXAMPLE_CAR), {
      seats: NONE,
      pads: NONE,
      bars: 'off',
    }).loads.RF;
    // Three struts of 20 N hold the body and one the seat: 2·20·(3 − 1)/4 is 20 N of warp.
    expect(found?.band?.value).toBeGreaterThan(17);
    expect(found?.band?.value).toBeLessThan(23);
    expect(Math.abs((found?.middle.value ?? 0) - level)).toBeLessThan(1.5);
  });

  test('a bounce that dies away leaves less than is allowed for', () => {
    let [squares, count] = [0, 0];
    for (let seed = 1; seed <= 12; seed += 1) {
      const study = studyCar(seed);
      const car = lowered(study, seed);
      bounce(car, createRandom(seed, 41));
      const { loads, rise } = statics(study.standing, {
        seats: car.seats(),
        pads: NONE,
        bars: 'off',
      });
      CORNERS.forEach((corner, i) => {
        const held =
          (car.dynamics.loads[i] as number) -
          loads[corner] +
          study.truth.wheelRates[corner] * (car.dynamics.rise(i) - rise[corner]);
        squares += held ** 2;
        count += 1;
      });
    }
    const rates = everyCorner(1);
    const allowed = frictionAsSeats(everyCorner(RIG_FRICTION), rates, 'bounced')[0] as number;
    const asItCame = frictionAsSeats(everyCorner(RIG_FRICTION), rates, 'as it came')[0] as number;
    expect(Math.sqrt(squares / count)).toBeLessThan(allowed);
    expect(asItCame).toBeCloseTo(RIG_FRICTION / Math.sqrt(3), 9);
  });
});
