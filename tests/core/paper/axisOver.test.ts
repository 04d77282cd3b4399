import fc from 'fast-check';
import { expect, test } from 'vitest';
import { axisOver } from '../../../core/paper/axisOver.ts';

test('holds zero and every value, with 5 to 13 ticks at even steps whose texts are their numbers', () => {
  const value = fc
    .double({ min: -1e6, max: 1e6, noNaN: true })
    .filter((x) => x === 0 || Math.abs(x) > 1e-7);
  fc.assert(
    fc.property(fc.array(value, { maxLength: 8 }), (values) => {
      const { from, to, ticks } = axisOver('x', values);
      for (const each of [0, ...values]) {
        expect(each).toBeGreaterThanOrEqual(from);
        expect(each).toBeLessThanOrEqual(to);
      }
      expect(ticks.length).toBeGreaterThanOrEqual(5);
      expect(ticks.length).toBeLessThanOrEqual(13);
      const step = (to - from) / (ticks.length - 1);
      ticks.forEach(({ at, text }, index) => {
        expect(Math.abs(at - (from + index * step))).toBeLessThan(1e-9 * step);
        expect(Math.abs(Number(text.replace('−', '-')) - at)).toBeLessThan(1e-9 * step);
      });
    }),
    { seed: 5 },
  );
});

test('an example', () => {
  expect(axisOver('Error, kg', [-0.03, 0.11])).toEqual({
    label: 'Error, kg',
    from: -0.04,
    to: 0.12,
    ticks: [
      { at: -0.04, text: '−0.04' },
      { at: -0.02, text: '−0.02' },
      { at: 0, text: '0.00' },
      { at: 0.02, text: '0.02' },
      { at: 0.04, text: '0.04' },
      { at: 0.06, text: '0.06' },
      { at: 0.08, text: '0.08' },
      { at: 0.1, text: '0.10' },
      { at: 0.12, text: '0.12' },
    ],
  });
});
