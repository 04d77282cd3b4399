/** Four numbers in the order LF, RF, LR, RR. */
export type FourNumbers = readonly [number, number, number, number];

/** One lowering of the unchanged car in a study of repeatability. */
export interface Lowering {
  /** Serial number of the pad under each corner, LF, RF, LR, RR. */
  readonly pads: readonly [string, string, string, string];
  /** Corner weights, kg, in the same order. */
  readonly weights: FourNumbers;
  /** Who commanded the lowering: a role or a letter. */
  readonly person: string;
  /** Name of the laying of the patch: the same while nothing of it was touched. */
  readonly laying: string;
}

/** Lowerings under one and the same condition. */
export interface LoweringCell {
  readonly pads: Lowering['pads'];
  readonly person: string;
  readonly laying: string;
  readonly weights: readonly FourNumbers[];
}

/** Sorts lowerings into cells of pads, laying and person, in order of first appearance. */
export const loweringCells = (lowerings: readonly Lowering[]): readonly LoweringCell[] => {
  const groups = Map.groupBy(lowerings, ({ pads, laying, person }) =>
    JSON.stringify([pads, laying, person]),
  );
  return [...groups.values()].flatMap((group) => {
    const [first] = group;
    if (!first) return [];
    const { pads, person, laying } = first;
    return [{ pads, person, laying, weights: group.map(({ weights }) => weights) }];
  });
};

/** Mean of each corner over a cell, kg. */
export const cellMeans = ({ weights }: LoweringCell): FourNumbers => {
  const mean = (k: 0 | 1 | 2 | 3): number =>
    weights.reduce((sum, each) => sum + each[k], 0) / weights.length;
  return [mean(0), mean(1), mean(2), mean(3)];
};

/** Scatter of one lowering of the four corners together. */
export interface LoweringScatter {
  /** Covariance of the four corner weights of one lowering, kg², row by row. */
  readonly covariance: readonly number[];
  readonly dof: number;
}

/**
 * Covariance of one lowering, pooled over the cells: what lowering again does under one condition. A
 * stuck strut moves load along the warp, so the corners scatter together and the total hardly. Null
 * where no condition was lowered twice.
 */
export const loweringScatter = (cells: readonly LoweringCell[]): LoweringScatter | null => {
  const total = new Array<number>(16).fill(0);
  let dof = 0;
  for (const cell of cells) {
    const means = cellMeans(cell);
    dof += cell.weights.length - 1;
    for (const weights of cell.weights)
      for (let i = 0; i < 4; i += 1)
        for (let j = 0; j < 4; j += 1)
          total[4 * i + j] =
            (total[4 * i + j] as number) +
            ((weights[i] as number) - (means[i] as number)) *
              ((weights[j] as number) - (means[j] as number));
  }
  if (dof < 1) return null;
  return { covariance: total.map((entry) => entry / dof), dof };
};
