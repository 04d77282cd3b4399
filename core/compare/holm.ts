/**
 * Adjusted probabilities of a family of tests after S. Holm (Scand. J. Stat. 6 (1979) 65): a test whose
 * adjusted probability is at most α is rejected, and the chance of any false rejection among them all
 * is at most α, whatever their dependence. In the order given.
 */
export const holm = (tails: readonly number[]): readonly number[] => {
  const order = tails.map((_, index) => index).toSorted((a, b) => at(tails, a) - at(tails, b));
  const adjusted = new Array<number>(tails.length).fill(1);
  let running = 0;
  order.forEach((index, place) => {
    running = Math.max(running, Math.min(1, (tails.length - place) * at(tails, index)));
    adjusted[index] = running;
  });
  return adjusted;
};

const at = (list: readonly number[], index: number): number => list[index] as number;
