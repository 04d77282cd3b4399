import { describe, expect, test } from 'vitest';
import { overWheel, riseShares } from '../../../core/adjust/heightPoint.ts';
import {
  predictChange,
  seatEffects,
  sheetResponse,
  standingFrom,
  SHEET_DOUBT,
} from '../../../core/adjust/turnResponse.ts';
import { statics } from '../../../core/adjust/statics.ts';
import { CORNERS, inOrder, perCorner } from '../../../core/corners.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';
import { byEnergy, randomStanding } from './byEnergy.ts';
import { FLAT_CAR, NONE, responseOf, sixths, standingCar } from './exampleAdjust.ts';

test('right front seat up 1 mm: the design’s loads and rises (6.2)', () => {
  const response = responseOf();
  const effect = seatEffects(response, response.logFactors)[1] as readonly number[];
  const wanted = [-42.235, 42.235, 43.003, -43.003, 0.235, 0.765, -0.261, 0.261];
  effect.forEach((value, i) =>
    expect(Math.abs(value * (i < 4 ? 1e-3 : 1) - (wanted[i] as number))).toBeLessThan(5.01e-4),
  );
});

test('one turn of a real adjuster: pitch over motion ratio, then the same', () => {
  const { change } = predictChange(responseOf(), { ...NONE, RF: 1 });
  const perTurn = 1.5 / 0.95;
  expect(change[1]).toBeCloseTo(42.235 * perTurn, 2);
  expect(Math.abs((change[5] as number) - 0.765e-3 * perTurn)).toBeLessThan(5e-7 * perTurn);
});

test('with a front bar a seat moves less (6.2: 60 N/mm, ±3.181 kg)', () => {
  const response = responseOf(FLAT_CAR, sixths(), 'on');
  const effect = seatEffects(response, response.logFactors)[1] as readonly number[];
  expect(((effect[1] as number) * 1e-3) / 9.80665).toBeCloseTo(3.181, 3);
});

test('against a general-purpose linear solver on an energy, 50 cars', () => {
  for (let seed = 1; seed <= 50; seed += 1) {
    const { of, supports } = randomStanding(seed);
    const made = sheetResponse(of, sixths(of.car), supports.bars);
    if (!made.ok) throw new Error(made.why);
    const turns = perCorner((_, i) => [0.5, -1.25, 2, -0.75][i] as number);
    const seats = perCorner(
      (corner) => (turns[corner] * of.car.perchPitch) / of.car.motionRatios[corner],
    );
    const flat = { ...supports, pads: NONE };
    const before = byEnergy(of, { ...flat, seats: NONE });
    const after = byEnergy(of, { ...flat, seats });
    const { change } = predictChange(made.response, turns);
    CORNERS.forEach((corner, i) => {
      expect(change[i]).toBeCloseTo(after.loads[corner] - before.loads[corner], 4);
      expect(change[4 + i]).toBeCloseTo(after.rise[corner] - before.rise[corner], 9);
    });
  }
});

test('its uncertainty is that of cars drawn from the doubt in the data sheet', () => {
  // Small doubt, so that linear propagation is exact enough to be checked by drawing.
  const doubt = 0.03;
  const sheet = responseOf();
  const response = {
    ...sheet,
    covariance: sheet.covariance.map((value) => (value * doubt ** 2) / SHEET_DOUBT ** 2),
  };
  const turns = { LF: 1, RF: -2, LR: 0.5, RR: 1.5 };
  const { change, covariance } = predictChange(response, turns);
  const random = createRandom(41);
  const draws = 4000;
  const squares = new Array<number>(8).fill(0);
  for (let draw = 0; draw < draws; draw += 1) {
    const logs = Array.from({ length: 8 }, () => doubt * random.normal());
    const one = predictChange({ ...response, logFactors: logs }, turns).change;
    one.forEach((value, i) => {
      squares[i] = (squares[i] as number) + (value - (change[i] as number)) ** 2;
    });
  }
  squares.forEach((sum, i) => {
    const sd = Math.sqrt(sum / draws);
    // Of a standard deviation from 4000 draws the standard error is 1.1 %.
    expect(Math.sqrt(covariance[i * 9] as number) / sd).toBeGreaterThan(0.95);
    expect(Math.sqrt(covariance[i * 9] as number) / sd).toBeLessThan(1.05);
  });
}, 20_000);

describe('the standing car from four loads', () => {
  test('gives mass, front share and centre of gravity back', () => {
    const of = standingCar();
    const { loads } = statics(of, { seats: NONE, pads: NONE, bars: 'off' });
    const found = standingFrom(FLAT_CAR, inOrder(loads), of.gravity);
    expect(found?.mass).toBeCloseTo(of.mass, 9);
    expect(found?.frontShare).toBeCloseTo(of.frontShare, 12);
    expect(found?.cgLeft).toBeCloseTo(of.cgLeft, 12);
  });
  test('is none where no car stands', () => {
    expect(standingFrom(FLAT_CAR, [0, 0, 0, 0], 9.81)).toBeNull();
    expect(standingFrom(FLAT_CAR, [-10, 5, 100, 100], 9.81)).toBeNull();
  });
});

test('a point over a wheel rises as that wheel; the middle as all four', () => {
  CORNERS.forEach((corner, i) => {
    const shares = riseShares(FLAT_CAR, overWheel(FLAT_CAR, corner));
    shares.forEach((share, k) => expect(share).toBeCloseTo(k === i ? 1 : 0, 12));
  });
  const middle = riseShares(FLAT_CAR, { name: 'middle', x: -FLAT_CAR.wheelbase / 2, y: 0 });
  middle.forEach((share) => expect(share).toBeCloseTo(0.25, 12));
});
