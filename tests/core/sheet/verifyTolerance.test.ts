import { describe, expect, test } from 'vitest';
import type { LoweringScatter } from '../../../core/compare/repeatabilityLowering.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import type { Gauge } from '../../../core/sheet/carRecord.ts';
import { EXAMPLE_SHEET } from '../../../core/sheet/exampleSheet.ts';
import { itemsById, itemsOf, type Item } from '../../../core/sheet/items.ts';
import { tiesOf } from '../../../core/sheet/ties.ts';
import { verifyTolerance, type OwnScatter } from '../../../core/sheet/verifyTolerance.ts';
import { CAMBER_GAUGE, RULE, SCALE } from './sampleRecord.ts';

const items = itemsById(itemsOf(EXAMPLE_CAR, []));
const itemOf = (id: string): Item => items.get(id) as Item;

/** A car that is lowered again sheds load along the warp alone: ±0.2 kg at every corner, none in total. */
const warp = [1, -1, -1, 1].map((n) => 0.2 * n);
const LOWERING: LoweringScatter = {
  covariance: warp.flatMap((a) => warp.map((b) => a * b)),
  dof: 1e6,
};
const known = (gauge: Gauge | null, lowering: LoweringScatter | null = LOWERING): OwnScatter => ({
  lowering,
  laying: null,
  gauge: () => gauge,
});
const verify = (id: string, tolerance: number | null, own: OwnScatter) =>
  verifyTolerance(itemOf(id), {
    tolerance,
    sheet: EXAMPLE_SHEET,
    items,
    ties: tiesOf(EXAMPLE_CAR, 'RF+LR'),
    own,
  });
const uOf = (id: string, own: OwnScatter): number => {
  const found = verify(id, 1, own);
  if (found?.is !== 'known') throw new Error(found?.why ?? 'none');
  return found.verifiable.u;
};

describe('what a tolerance is verified with', () => {
  test('corner weights by the study of lowerings; a change is of two records: √2', () => {
    expect(uOf('weight.RF', known(null))).toBeCloseTo(0.2 * Math.SQRT2, 9);
  });
  test('what the lowerings leave alone has no scatter; cross takes both of its corners', () => {
    expect(verify('total', 1, known(null))).toMatchObject({ is: 'not known' });
    // Two corners of ±0.2 kg that move together, over 1305 kg, and √2.
    const cross = uOf('crossShare', known(null));
    expect(cross).toBeCloseTo((0.4 * Math.SQRT2) / 1305, 7);
  });
  test('by its gauge what is read; toes of an axle add in squares', () => {
    expect(uOf('camber.LF', known(SCALE))).toBeCloseTo(2e-4 * Math.SQRT2, 9);
    expect(uOf('totalToe.rear', known(SCALE))).toBeCloseTo(4e-4, 9);
    expect(uOf('thrust', known(SCALE))).toBeCloseTo(2e-4, 9);
  });
  test('a wide tolerance can be verified, a narrow one takes repeats, with how many', () => {
    // 2.9 u is four chances in five (design 6.8): u(d) = 0.42 mm, so 1.3 mm can and 1.0 mm cannot.
    const rule = { ...RULE, scatter: { u: 3e-4, dof: Infinity } };
    expect(verify('height.LF', 1.3e-3, known(rule))).toMatchObject({ verifiable: { ok: true } });
    expect(verify('height.LF', 1.0e-3, known(rule))).toMatchObject({
      verifiable: { ok: false, readings: 2 },
    });
  });
});

test('what is not known is said, with what to do', () => {
  expect(verify('weight.LF', 1, known(null, null))).toMatchObject({
    why: expect.stringMatching(/lower the unchanged car/) as string,
  });
  expect(verify('camber.LF', 1, known(CAMBER_GAUGE))).toMatchObject({
    why: expect.stringMatching(/scatter of camber gauge/) as string,
  });
  expect(verify('camber.LF', 1, known(null))).toMatchObject({
    why: expect.stringMatching(/what it is read with/) as string,
  });
  expect(verify('camber.LF', null, known(SCALE))).toBeNull();
  expect(verify('fuel', 1, known(SCALE))).toBeNull();
});
