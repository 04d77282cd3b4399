/** A foot whose turns are to be whole steps. */
export interface SteppedFoot {
  /** Turns wanted of it, and the least and most that its travel allows; all in steps. */
  readonly wanted: number;
  readonly least: number;
  readonly most: number;
  /** Twist of the patch that one step of it makes, metre. */
  readonly twist: number;
}

/** Twist left by rounding that no longer matters: a quarter of 0.1 mm. Common practice, no source. */
const NO_MATTER = 2.5e-5;

/** One foot a step further up or down, or two of them. */
interface Choice {
  readonly moves: readonly { readonly foot: number; readonly by: number }[];
  /** Twist that is then left, without its sign. */
  readonly twist: number;
  /** How much further from what was wanted, in steps. */
  readonly off: number;
}

const choicesFrom = (
  feet: readonly SteppedFoot[],
  steps: readonly number[],
  twist: number,
): readonly Choice[] => {
  const singles = feet.flatMap(({ wanted, least, most, twist: each }, foot) =>
    [-1, 1].flatMap((by) => {
      const from = steps[foot] as number;
      const to = from + by;
      if (to < least || to > most || Math.abs(to - wanted) > 1) return [];
      return [{ foot, by, twist: by * each, off: Math.abs(to - wanted) - Math.abs(from - wanted) }];
    }),
  );
  return [
    ...singles.map((one) => ({ moves: [one], twist: Math.abs(twist + one.twist), off: one.off })),
    ...singles.flatMap((one) =>
      singles
        .filter((two) => two.foot > one.foot)
        .map((two) => ({
          moves: [one, two],
          twist: Math.abs(twist + one.twist + two.twist),
          off: one.off + two.off,
        })),
    ),
  ];
};

/**
 * Whole steps near the wanted ones. Rounding each foot alone leaves the patch twisted by more than
 * matters, as steps are coarse; so one foot or two take the next step up or down, and others again until
 * it does not help: of the choices that bring the twist below what matters the nearest to what was wanted,
 * else the one with the least twist. No foot ends more than a step from what was wanted of it, unless its
 * travel ends before. `twist` is what the patch has with no turns, metre.
 */
export const wholeSteps = (feet: readonly SteppedFoot[], twist: number): readonly number[] => {
  const steps = feet.map(({ wanted, least, most }) =>
    Math.min(most, Math.max(least, Math.round(wanted))),
  );
  const left = (): number =>
    steps.reduce((sum, k, i) => sum + k * (feet[i] as SteppedFoot).twist, twist);
  for (let now = left(); Math.abs(now) > NO_MATTER; now = left()) {
    const choices = choicesFrom(feet, steps, now);
    const good = choices.filter((each) => each.twist <= NO_MATTER);
    const best =
      good.length > 0
        ? good.reduce((a, b) => (b.off < a.off ? b : a))
        : choices.reduce<Choice | null>((a, b) => (!a || b.twist < a.twist ? b : a), null);
    // Less by more than rounding, so that this ends.
    if (!best || best.twist > Math.abs(now) - 1e-9) break;
    for (const { foot, by } of best.moves) steps[foot] = (steps[foot] as number) + by;
  }
  return steps;
};
