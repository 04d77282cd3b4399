import { expect } from 'vitest';

/** A number within half a unit of so many decimals, inside a whole-object assertion. */
export const near = (value: number, decimals: number): unknown => expect.closeTo(value, decimals);
