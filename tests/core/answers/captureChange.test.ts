import { expect, test } from 'vitest';
import { captureBefore, captureChange, captureMarks } from '../../../core/answers/captureChange.ts';
import { DEFAULT_SETTINGS } from '../../../core/contract/settings.ts';
import { exampleCapture } from '../../renderer/harness/scenes.ts';

test('the capture before is the newest older one that was not set aside', () => {
  const log = [
    exampleCapture(4),
    { ...exampleCapture(3), setAside: true },
    exampleCapture(2),
    exampleCapture(1),
  ];
  expect(captureBefore(log[0]!, log)?.number).toBe(2);
  expect(captureBefore(log[1]!, log)?.number).toBe(2);
  expect(captureBefore(log[3]!, log)).toBeNull();
});

test('the change is later less earlier, with u in quadrature', () => {
  const change = captureChange(exampleCapture(2, 1.5), exampleCapture(1));
  expect(change.corners.RF.value).toBeCloseTo(1.5, 9);
  expect(change.corners.LF.value).toBeCloseTo(-1.5, 9);
  // √2 × 0.021 kg.
  expect(change.corners.RF.u).toBeCloseTo(0.029698, 6);
  // Two equal u with 40 degrees of freedom each: Welch–Satterthwaite gives 80.
  expect(change.corners.RF.dof).toBeCloseTo(80, 9);
  expect(change.total.value).toBeCloseTo(0, 9);
  // 3 kg more on the named diagonal, of 1305.
  expect(change.crossShare?.value).toBeCloseTo(3 / 1305, 9);
});

test('two different diagonals are not compared', () => {
  const later = exampleCapture(2);
  const change = captureChange(
    { ...later, balance: { ...later.balance, cross: 'LF+RR' } },
    exampleCapture(1),
  );
  expect(change.crossShare).toBeNull();
});

test('what must be known beside the numbers', () => {
  const plain = exampleCapture(1);
  expect(captureMarks(plain, DEFAULT_SETTINGS)).toEqual(['practice', 'not calibrated']);
  expect(
    captureMarks(
      {
        ...plain,
        practice: false,
        corners: { ...plain.corners, LF: { ...plain.corners.LF, spikes: 2 } },
        carStateNotes: ['Fuel on board: 12 kg, agreed 20 kg'],
        zeroShift: { LF: 0.01, RF: 0, LR: null, RR: 0 },
        setAside: true,
      },
      DEFAULT_SETTINGS,
    ),
  ).toEqual(['not calibrated', '1 state note', '2 spikes left out', 'zero checked', 'set aside']);
});

test('a zero that moved by more than the limit is said with its size, in the unit of the crew', () => {
  const moved = { ...exampleCapture(1), zeroShift: { LF: 0.01, RF: -0.31, LR: null, RR: 0 } };
  expect(captureMarks(moved, DEFAULT_SETTINGS).at(-1)).toBe('zero moved by 0.31\u00A0kg');
  expect(captureMarks(moved, { ...DEFAULT_SETTINGS, zeroShiftLimit: 0.4 }).at(-1)).toBe(
    'zero checked',
  );
  expect(captureMarks(moved, { ...DEFAULT_SETTINGS, massUnit: 'lb' }).at(-1)).toBe(
    'zero moved by 0.68\u00A0lb',
  );
});
