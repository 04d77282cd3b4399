import { expect, test } from 'vitest';
import { moments } from '../../../core/signal/moments.ts';
import {
  pairedDifference,
  pooledDifference,
  welchDifference,
} from '../../../core/statistics/meanDifference.ts';

/** Student's sleep data (Biometrika 6 (1908) 1), the hours of sleep gained with two substances. */
const A = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
const B = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];

test('Welch, pooled and paired on one set: what is common to a pair must not be in its scatter', () => {
  // Output of t.test(extra ~ group, data = sleep) in R, published many times.
  const welch = welchDifference(moments(A), moments(B));
  expect(welch?.t).toBeCloseTo(-1.8608, 4);
  expect(welch?.difference.dof).toBeCloseTo(17.776, 3);
  expect(welch?.p).toBeCloseTo(0.07939, 5);
  expect(welch?.lower).toBeCloseTo(-3.3654832, 6);
  expect(welch?.upper).toBeCloseTo(0.2054832, 6);
  const pooled = pooledDifference(moments(A), moments(B));
  expect(pooled?.t).toBeCloseTo(-1.860813, 6);
  expect(pooled?.difference.dof).toBe(18);
  expect(pooled?.p).toBeCloseTo(0.07918671, 8);
  const paired = pairedDifference(A, B);
  expect(paired?.difference.value).toBeCloseTo(-1.58, 12);
  expect(paired?.t).toBeCloseTo(-4.062128, 6);
  expect(paired?.p).toBeCloseTo(0.00283289, 8);
  expect(paired?.lower).toBeCloseTo(-2.4598858, 6);
  expect(paired?.upper).toBeCloseTo(-0.7001142, 6);
});

test('AUTO83B from its summary (NIST/SEMATECH e-Handbook 1.3.5.3)', () => {
  const found = pooledDifference(
    { count: 249, mean: 20.14458, sd: 6.4147 },
    { count: 79, mean: 30.48101, sd: 6.10771 },
  );
  expect(found?.t).toBeCloseTo(-12.62059, 4);
  expect(found?.difference.dof).toBe(326);
});

test('no answer where nothing can be said', () => {
  expect(welchDifference(moments([1]), moments([1, 2]))).toBeNull();
  expect(pooledDifference(moments([1, 1]), moments([2, 2]))).toBeNull();
  expect(pairedDifference([1, 2], [1])).toBeNull();
  expect(pairedDifference([1, 2], [0, 1])).toBeNull();
});
