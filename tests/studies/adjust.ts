import { bestReachable, setUp, type Residual, type Way } from './adjustCar.ts';
import { DEEDS, watchDeed } from './adjustMistake.ts';
import type { Study } from './study.ts';

/** What may be left beyond the best reachable whole-step point: a share, and metre. */
const BEYOND = { cross: 5e-4, height: 2e-4 } as const;

export interface SetUpFigures {
  readonly cars: number;
  /** Share of cars with cross and every ride height each within the best point's plus `BEYOND`. */
  readonly within: number;
  /** The same with the two taken together: the larger in units of `BEYOND`, plus one. */
  readonly withinTogether: number;
  /** Root mean squares over the cars: of the best points, with learning and without. */
  readonly cross: { readonly best: number; readonly learnt: number; readonly sheet: number };
  readonly height: { readonly best: number; readonly learnt: number; readonly sheet: number };
  /**
   * What the run with learning leaves over what the same run leaves without: the root mean square
   * over cars of the larger of cross and height in units of `BEYOND`.
   */
  readonly ratio: number;
  /** Share of readings whose chance was below 5 %. */
  readonly surprised: number;
}

const rms = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);

const together = ({ cross, height }: Residual): number =>
  Math.max(cross / BEYOND.cross, height / BEYOND.height);

/** Sets up the cars of these seeds, each with learning and without, same noise in both. */
export const setUpFigures = (
  seeds: readonly number[],
  options: { readonly stepsPerTurn: number; readonly rounds: number; readonly way: Way },
): SetUpFigures => {
  const runs = seeds.map((seed) => ({
    best: bestReachable(seed, options.stepsPerTurn),
    learnt: setUp(seed, { ...options, learns: true }),
    sheet: setUp(seed, { ...options, learns: false }),
  }));
  const share = (is: (one: (typeof runs)[number]) => boolean): number =>
    runs.filter(is).length / runs.length;
  const figures = (of: 'cross' | 'height'): SetUpFigures['cross'] => ({
    best: rms(runs.map(({ best }) => best[of])),
    learnt: rms(runs.map(({ learnt }) => learnt.left[of])),
    sheet: rms(runs.map(({ sheet }) => sheet.left[of])),
  });
  const chances = runs.flatMap(({ learnt }) => learnt.chances);
  return {
    cars: runs.length,
    within: share(
      ({ best, learnt: { left } }) =>
        left.cross <= best.cross + BEYOND.cross && left.height <= best.height + BEYOND.height,
    ),
    withinTogether: share(({ best, learnt }) => together(learnt.left) <= together(best) + 1),
    cross: figures('cross'),
    height: figures('height'),
    ratio:
      rms(runs.map(({ learnt }) => together(learnt.left))) /
      rms(runs.map(({ sheet }) => together(sheet.left))),
    surprised: chances.filter((chance) => chance < 0.05).length / chances.length,
  };
};

export interface MistakeFigures {
  readonly mistakes: number;
  /** Share of mistakes of which a wrong sense is told two seconds after the wrench stopped. */
  readonly recognised: number;
  /** Share of right calls in which a wrong sense was told at any time. */
  readonly falseAlarms: number;
  /** Longest time from the wrench's stop until it was told, s; below zero is before it stopped. */
  readonly latest: number;
}

/** Half-turn calls made right and wrong on the cars of these seeds. */
export const mistakeFigures = (seeds: readonly number[]): MistakeFigures => {
  const seen = seeds.flatMap((seed) => DEEDS.map((deed) => watchDeed(seed, deed)));
  const wrong = seen.filter(({ deed }) => deed !== 'as called');
  const right = seen.filter(({ deed }) => deed === 'as called');
  return {
    mistakes: wrong.length,
    recognised:
      wrong.filter(({ atTwoSeconds }) => atTwoSeconds === 'wrong sense').length / wrong.length,
    falseAlarms: right.filter(({ toldWrong }) => toldWrong).length / right.length,
    latest: Math.max(...wrong.map(({ toldAfter }) => toldAfter ?? Infinity)),
  };
};

const CARS = 500;
const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
const verdict = (isMet: boolean): string => (isMet ? 'met' : 'MISSED');

export const study: Study = {
  name: 'adjust',
  about:
    'rig cars up to 40 % off their data sheets set up in two rounds of calls: within the best whole steps + 0.05 % and + 0.2 mm in 95 %, half of what is left without learning; wrong sense in 98 %',
  run: (share, say) => {
    const seeds = Array.from({ length: Math.max(1, Math.round(share * CARS)) }, (_, i) => i + 1);
    const cases = [
      { way: 'heights each call', rounds: 2, wanted: true },
      { way: 'heights each round', rounds: 2, wanted: false },
      { way: 'raised', rounds: 2, wanted: false },
      { way: 'raised', rounds: 3, wanted: false },
    ] as const;
    for (const { way, rounds, wanted } of cases)
      for (const stepsPerTurn of [6, 4]) {
        const found = setUpFigures(seeds, { stepsPerTurn, rounds, way });
        const { cross, height } = found;
        say(
          `${way}, ${rounds} rounds, 1/${stepsPerTurn} turn, ${found.cars} cars: ` +
            `within ${percent(found.within)}${wanted ? ` ${verdict(found.within >= 0.95)}` : ''}, together ${percent(found.withinTogether)}, ` +
            `left over left without learning ${found.ratio.toFixed(2)}${wanted ? ` ${verdict(found.ratio <= 0.5)}` : ''}`,
        );
        say(
          `  rms best / learnt / data sheet: cross ${[cross.best, cross.learnt, cross.sheet].map((one) => (100 * one).toFixed(3)).join(' / ')} %, ` +
            `worst ride height ${[height.best, height.learnt, height.sheet].map((one) => (1e3 * one).toFixed(3)).join(' / ')} mm; ` +
            `chance below 5 % in ${percent(found.surprised)} of rounds`,
        );
      }
    const mistakes = mistakeFigures(seeds);
    say(
      `half-turn mistakes told within 2 s: ${percent(mistakes.recognised)} of ${mistakes.mistakes} ${verdict(mistakes.recognised >= 0.98)}, ` +
        `the last ${mistakes.latest.toFixed(1)} s after the wrench stopped; of right calls called wrong ${percent(mistakes.falseAlarms)}`,
    );
  },
};
