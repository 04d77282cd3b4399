import { fixed, HARD_SPACE } from '../format/number.ts';
import type { Car } from '../sheet/car.ts';
import { shapeOf } from './heights.ts';
import { perCorner } from '../corners.ts';
import { padCentre } from './network.ts';
import { sightsNeeded } from './sightsNeeded.ts';

interface Place {
  readonly x: number;
  readonly y: number;
}

/**
 * Where the instrument is equally far from all four pads, so that cone and collimation cancel in
 * twist and level: on the centre line, x = −(L² + (t_r² − t_f²)/4)/(2L) by Pythagoras.
 */
export const equalDistances = (car: Car): Place => ({
  x: -(car.wheelbase ** 2 + (car.trackRear ** 2 - car.trackFront ** 2) / 4) / (2 * car.wheelbase),
  y: 0,
});

/** Distances of the instrument to the pads' centres, and what a cone error makes of them. */
export interface SightAdvice {
  /** Where it would best stand, and how far the pads are from there. */
  readonly best: Place & { readonly distance: number };
  /** Standard uncertainty that the cone error gives twist and level from where it stands, metre. */
  readonly cone: { readonly twist: number; readonly level: number };
  /** Sights of each point for the wanted twist; null where no number of them is enough. */
  readonly sights: number | null;
  readonly words: readonly string[];
}

/** A cone that takes more than a third of the wanted is worth moving for; no source. */
const WORTH_MOVING = 1 / 3;

/**
 * How to take the sights so that the twist is known to `wanted` (standard uncertainty, metre): where the
 * instrument goes and how often each point is read, at `points` points a pad and `sd` a sight. `cone` is
 * its standard uncertainty in metre per metre, from one set-up at `place`.
 */
export const adviseSights = (
  car: Car,
  about: {
    readonly place: Place;
    readonly cone: number;
    readonly sd: number;
    readonly points: number;
    readonly wanted: number;
  },
): SightAdvice => {
  const { place, cone, wanted } = about;
  const distance = (from: Place) =>
    perCorner((corner) => {
      const pad = padCentre(car, corner);
      return Math.hypot(pad.x - from.x, pad.y - from.y);
    });
  const equal = equalDistances(car);
  const best = { ...equal, distance: distance(equal).LF };
  const shape = shapeOf(car, distance(place));
  const track = (car.trackFront + car.trackRear) / 2;
  const made = {
    twist: cone * Math.abs(shape.twist),
    level: cone * Math.max(Math.abs(shape.left) * track, Math.abs(shape.forward) * car.wheelbase),
  };
  const left = wanted ** 2 - made.twist ** 2;
  const needed = left > 0 ? sightsNeeded(car, { ...about, wanted: Math.sqrt(left) }) : null;
  const millimetres = (length: number): string => `${fixed(length * 1000, 2)}${HARD_SPACE}mm`;
  const metres = (length: number): string => `${fixed(length, 2)}${HARD_SPACE}m`;
  const words = [
    `Stand the laser on the centre line, ${metres(-best.x)} behind the front axle: every pad is then ${metres(best.distance)} away and its cone error cancels.`,
    ...(made.twist > WORTH_MOVING * wanted
      ? [
          `From where it stands the cone error leaves ${millimetres(made.twist)} of twist unsure, which no repeats take away.`,
        ]
      : []),
    needed
      ? `Read every point ${needed.sights === 1 ? 'once' : `${needed.sights} times`}: the twist is then known to ${millimetres(Math.hypot(needed.u, made.twist))}.`
      : 'No number of sights is enough from here: move the laser, or read more points on each pad.',
  ];
  return { best, cone: made, sights: needed?.sights ?? null, words };
};
