import { withLearnt } from '../adjust/adjustment.ts';
import type { StandingCar } from '../adjust/statics.ts';
import {
  changeBy,
  effectsAndSlopes,
  FACTORS,
  seatPerTurnWith,
  sheetResponse,
  type TurnResponse,
} from '../adjust/turnResponse.ts';
import { AT_REST, fourOf } from '../compare/causes/bodyResponse.ts';
import { bodySignature } from '../compare/causes/signature.ts';
import type { ByItem, KnownChange } from '../compare/knownChange.ts';
import type { LearntKept } from '../contract/adjustment.ts';
import { CORNERS } from '../corners.ts';
import { factor } from '../signal/early/cholesky.ts';
import { adjustersOf } from './adjustersOf.ts';
import { bodyEffect, measuresOf } from './bodyEffect.ts';
import type { Car } from './car.ts';
import type { Item } from './items.ts';
import { massesOf } from './stateDifferences.ts';
import type { DoneBetween } from './workBetween.ts';
import { workInWords } from './workInWords.ts';

export interface WorkAsked {
  readonly car: Car;
  readonly items: readonly Item[];
  readonly done: readonly DoneBetween[];
  /** The car as it stood before; null where it was not weighed. */
  readonly standing: StandingCar | null;
  readonly bars: 'on' | 'off';
  readonly learnt: LearntKept | null;
  /** Ids of masses whose change the records themselves say: it is not taken out twice. */
  readonly massesSaid: readonly string[];
  /** −1 where the later record is the one that is compared against. */
  readonly sign: 1 | -1;
}

/** What was done on purpose: taken out where its effect is known, else said. */
export interface KnownWork {
  readonly known: readonly KnownChange[];
  /** Sentences without their stop. */
  readonly notTakenOut: readonly string[];
}

type Made = { readonly known: KnownChange } | { readonly not: string } | null;

const nameOf = ({ work, isCall }: DoneBetween, { details }: Car): string => {
  const words = workInWords(
    work,
    (part) => details?.ballastPlaces.find(({ id }) => id === part)?.name ?? part,
  );
  return isCall ? `${words} (call)` : words;
};

/** The response of the car to turns, with its doubt: what was learnt of it, else its data. */
const responseOf = (asked: WorkAsked, standing: StandingCar): TurnResponse | null => {
  const made = sheetResponse(standing, adjustersOf(asked.car), asked.bars);
  return made.ok ? withLearnt(made.response, asked.learnt) : null;
};

/**
 * All turns together, so that what is in doubt of a corner's response is one doubt however often it was
 * turned, and none where it was turned back.
 */
const turned = (asked: WorkAsked, done: readonly DoneBetween[]): Made => {
  const { car, items, standing, sign } = asked;
  const names = done.map((each) => nameOf(each, car)).join(', ');
  if (!standing) return { not: `${names}: weigh the car in both records and it is taken out` };
  const response = responseOf(asked, standing);
  const adjusters = adjustersOf(car);
  if (!response || done.some(({ work }) => !work.corner || !adjusters[work.corner]))
    return { not: `${names}: enter the adjusters of the car and it is taken out` };
  const reached = items
    .map((item) => ({ item, measures: measuresOf(item, standing) }))
    .filter(({ measures }) => measures.what !== 'other');
  const toItem = (measures: (typeof reached)[number]['measures'], eight: readonly number[]) =>
    bodySignature(
      [measures],
      {
        standing,
        bars: asked.bars,
        places: [],
        wheelRadii: null,
        camberGain: null,
        bumpSteer: null,
        rateUncertainty: 0,
      },
      AT_REST,
      {
        loads: fourOf((k) => eight[k] as number),
        rise: fourOf((k) => eight[4 + k] as number),
      },
    )[0] as number;
  const effects = effectsAndSlopes(response, response.logFactors);
  const perTurn = seatPerTurnWith(response, response.logFactors);
  const lower = Float64Array.from(response.covariance);
  if (!factor(lower, FACTORS)) return { not: `${names}: the response of the car is not known` };
  const effect: Record<string, number> = {};
  const doubts: Record<string, number>[] = Array.from({ length: FACTORS }, () => ({}));
  for (const { item, measures } of reached) {
    const turns = CORNERS.map((corner) =>
      done.reduce(
        (sum, { work, isBetween }) =>
          sum + (work.corner === corner && isBetween(item) ? (work.amount ?? 0) : 0),
        0,
      ),
    );
    if (turns.every((each) => each === 0)) continue;
    const { change, slopes } = changeBy(effects, perTurn, turns);
    effect[item.id] = sign * toItem(measures, change);
    const bySlope = slopes.map((slope) => sign * toItem(measures, slope));
    for (const [source, doubt] of doubts.entries())
      doubt[item.id] = bySlope.reduce(
        (sum, slope, row) =>
          row < source ? sum : sum + slope * (lower[row * FACTORS + source] as number),
        0,
      );
  }
  return Object.keys(effect).length === 0 ? null : { known: { name: names, effect, doubts } };
};

/** An angle set at one wheel: the item that reads it, and nothing else of what it may move. */
const atWheel = (asked: WorkAsked, done: DoneBetween, kind: 'camber' | 'caster' | 'toe'): Made => {
  const { corner, amount } = done.work;
  const item = asked.items.find((each) => each.kind === kind && each.corner === corner);
  const name = nameOf(done, asked.car);
  if (!corner) return { not: `${name}: at no corner, so it is not taken out` };
  if (!item || !done.isBetween(item)) return null;
  const effect: ByItem = { [item.id]: asked.sign * (amount ?? 0) };
  return { known: { name: `${name} (of the ${kind} alone)`, effect, doubts: [] } };
};

const mass = (asked: WorkAsked, done: DoneBetween): Made => {
  const { car, items, standing, massesSaid, sign } = asked;
  const { what, part, amount } = done.work;
  const id = what === 'ballast' ? `ballast.${part ?? ''}` : what;
  if (massesSaid.includes(id)) return null;
  const name = nameOf(done, car);
  const place = massesOf(car).find((each) => each.id === id)?.place;
  if (!place) return { not: `${name}: enter its place with the car and it is taken out` };
  if (!standing) return { not: `${name}: weigh the car in both records and it is taken out` };
  const between = items.filter(done.isBetween);
  if (between.length === 0) return null;
  const effect = bodyEffect(
    { standing, items: between, barsOn: asked.bars === 'on' },
    { is: 'mass', mass: sign * (amount ?? 0), ...place },
  );
  return { known: { name, effect, doubts: [] } };
};

const madeBy = (asked: WorkAsked, done: DoneBetween): Made => {
  const { what, amount } = done.work;
  const name = nameOf(done, asked.car);
  // Relaying the patch is in the scatter already.
  if (what === 'patch laid again' || !asked.items.some(done.isBetween)) return null;
  switch (what) {
    case 'camber shim':
    case 'caster':
    case 'toe link':
    case 'ballast':
    case 'fuel':
    case 'driver':
      if (amount === null) return { not: `${name}: by how much was not noted` };
      if (what === 'camber shim') return atWheel(asked, done, 'camber');
      if (what === 'caster') return atWheel(asked, done, 'caster');
      if (what === 'toe link') return atWheel(asked, done, 'toe');
      return mass(asked, done);
    case 'height adjuster':
      return { not: `${name}: by how much was not noted` };
    case 'steering rack':
    case 'bar preload':
    case 'damper':
    case 'spring':
    case 'wheel':
    case 'tyre pressure':
    case 'other':
      return { not: `${name}: what it does to the items is not known` };
  }
};

/**
 * What was done on purpose between two records, to be taken out before judging: turns by the response
 * of the car with all its doubt, masses at their places, shims and links on what they set. Anything
 * whose effect is not known is said and left in.
 */
export const knownWork = (asked: WorkAsked): KnownWork => {
  const isTurn = ({ work }: DoneBetween): boolean =>
    work.what === 'height adjuster' && work.amount !== null && work.corner !== null;
  const turns = asked.done.filter(
    (done) => isTurn(done) && asked.items.some((item) => done.isBetween(item)),
  );
  const made = [
    ...(turns.length > 0 ? [turned(asked, turns)] : []),
    ...asked.done.filter((done) => !isTurn(done)).map((done) => madeBy(asked, done)),
  ];
  return {
    known: made.flatMap((each) => (each && 'known' in each ? [each.known] : [])),
    notTakenOut: made.flatMap((each) => (each && 'not' in each ? [each.not] : [])),
  };
};
