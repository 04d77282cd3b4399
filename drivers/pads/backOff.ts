/**
 * Durations of an exponential back-off, s: `first`, doubled each time up to `longest`, each spread
 * evenly by ± a quarter so that pads lost together do not come back together. `random` gives [0, 1).
 */
export function* backOff({
  first,
  longest,
  random,
}: {
  readonly first: number;
  readonly longest: number;
  readonly random: () => number;
}): Generator<number, never> {
  for (let duration = first; ; duration = Math.min(longest, duration * 2))
    yield duration * (0.75 + 0.5 * random());
}
