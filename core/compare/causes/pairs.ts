import { fitTwo, inner, type Sized, type WhitenedCause } from './fit.ts';

/** A fit of two causes, by their places in the list handed in. */
export interface PairFit {
  readonly of: readonly [number, number];
  readonly sizes: readonly [Sized, Sized];
  readonly rest: number;
  readonly misfit: number;
  /** The fewer of the two. */
  readonly dof: number;
}

/** Pairs that are fitted in full; the others leave clearly more without the error of the rates. */
const REFINED = 40;

/**
 * Best fits of the whitened change `y` by two of these causes, best first. Inner products alone sort all
 * the pairs; the error of the rates is then allowed for in the best of them.
 */
export const bestPairs = (
  y: readonly number[],
  causes: readonly WhitenedCause[],
): readonly PairFit[] => {
  const units = causes.map(({ signature }) => {
    const length = Math.sqrt(inner(signature, signature));
    return signature.map((entry) => entry / length);
  });
  const along = units.map((unit) => inner(unit, y));
  const rough: { readonly of: readonly [number, number]; readonly gain: number }[] = [];
  for (let i = 0; i < units.length; i += 1)
    for (let j = i + 1; j < units.length; j += 1) {
      const cosine = inner(units[i] as readonly number[], units[j] as readonly number[]);
      const [a, b] = [along[i] as number, along[j] as number];
      const room = 1 - cosine * cosine;
      if (room > 1e-4)
        rough.push({ of: [i, j], gain: (a * a + b * b - 2 * cosine * a * b) / room });
    }
  return rough
    .toSorted((a, b) => b.gain - a.gain)
    .slice(0, REFINED)
    .flatMap(({ of }): readonly PairFit[] => {
      const pair = [causes[of[0]], causes[of[1]]] as [WhitenedCause, WhitenedCause];
      const fit = fitTwo(y, ...pair);
      const isBelieved = fit?.sizes.every(
        ({ size, u }, index) => Math.abs(size) - 2 * u <= (pair[index] as WhitenedCause).cause.most,
      );
      return fit && isBelieved
        ? [
            {
              ...fit,
              of,
              sizes: fit.sizes as readonly [Sized, Sized],
              dof: Math.min(pair[0].dof, pair[1].dof),
            },
          ]
        : [];
    })
    .toSorted((a, b) => a.misfit - b.misfit);
};
