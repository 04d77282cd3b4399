/**
 * A mixed-integer linear programme as plain arrays, for any solver: least cost·x with
 * lower ≤ x ≤ upper and rowLower ≤ A·x ≤ rowUpper. A by rows: entries of row i lie from `starts[i]` up to
 * `starts[i + 1]`. Infinite bounds are none.
 */
export interface IntegerModel {
  readonly cost: readonly number[];
  readonly lower: readonly number[];
  readonly upper: readonly number[];
  readonly isWhole: readonly boolean[];
  readonly rowLower: readonly number[];
  readonly rowUpper: readonly number[];
  readonly starts: readonly number[];
  readonly columns: readonly number[];
  readonly values: readonly number[];
}

/** Writes a model column by column and row by row. */
export const createModelWriter = () => {
  const cost: number[] = [];
  const lower: number[] = [];
  const upper: number[] = [];
  const isWhole: boolean[] = [];
  const rowLower: number[] = [];
  const rowUpper: number[] = [];
  const starts = [0];
  const columns: number[] = [];
  const values: number[] = [];
  return {
    /** Adds a column from zero to `most`; gives its index. */
    column: (column: {
      readonly cost: number;
      readonly most: number;
      readonly isWhole: boolean;
    }): number => {
      cost.push(column.cost);
      lower.push(0);
      upper.push(column.most);
      isWhole.push(column.isWhole);
      return cost.length - 1;
    },
    /** Adds a row of [column, value] entries; zeros are left out. */
    row: (
      entries: readonly (readonly [column: number, value: number])[],
      low: number,
      high: number,
    ): void => {
      for (const [column, value] of entries)
        if (value !== 0) {
          columns.push(column);
          values.push(value);
        }
      rowLower.push(low);
      rowUpper.push(high);
      starts.push(columns.length);
    },
    model: (): IntegerModel => ({
      cost,
      lower,
      upper,
      isWhole,
      rowLower,
      rowUpper,
      starts,
      columns,
      values,
    }),
  };
};
