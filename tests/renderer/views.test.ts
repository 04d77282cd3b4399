import { describe, expect, test } from 'vitest';
import { EXAMPLE_CAR } from '../../core/sheet/car.ts';
import { newId } from '../../renderer/newId.ts';
import { cgView, shareView, totalView } from '../../renderer/screens/Balance/balanceView.ts';
import { cornerView } from '../../renderer/screens/Balance/cornerView.ts';
import { blockTop, planGeometry } from '../../renderer/screens/Balance/planGeometry.ts';
import { lossWords, signalWords } from '../../renderer/screens/Pads/padWords.ts';
import { placeOfKey } from '../../renderer/screens/Shell/places.ts';
import { exampleCorner, exampleFrame, examplePad } from './harness/scenes.ts';

describe('a corner block', () => {
  test('settled: the mean, no finer than its uncertainty', () => {
    expect(cornerView(exampleCorner('LF', { mass: 999 }), null, 'kg')).toEqual({
      status: 'live',
      stillness: 'settled',
      number: '312.41',
      u: '0.02',
      age: null,
      early: null,
      overload: false,
      calibrated: false,
      zeroed: true,
    });
  });

  test.each([
    ['moving', '312'],
    ['calming', '312.4'],
  ] as const)('%s: rougher, without an uncertainty', (stillness, number) => {
    const view = cornerView(exampleCorner('LF', { stillness, mean: null, u: null }), null, 'kg');
    expect(view).toMatchObject({ number, u: null, stillness });
  });

  test('stale: says its age and no stillness', () => {
    const view = cornerView(exampleCorner('LF', { status: 'stale', age: 2.34 }), null, 'kg');
    expect(view).toMatchObject({ status: 'stale', stillness: null, age: '2.3\u00A0s' });
  });

  test('no pad, no zero, no frame: no number', () => {
    expect(cornerView(null, null, 'kg').number).toBeNull();
    expect(cornerView(exampleCorner('LF', { zeroed: false }), null, 'kg').number).toBeNull();
    expect(
      cornerView(exampleCorner('LF', { status: 'absent', mass: null }), null, 'kg').number,
    ).toBeNull();
  });
});

describe('beams and the centre of gravity', () => {
  test('settled shares; the heavier end sinks', () => {
    const frame = exampleFrame();
    // Design 6.1: 47.5 % front; 6 mm left of centre.
    expect(shareView(frame, 'frontShare').number).toBe('47.50');
    expect(shareView(frame, 'frontShare').tip).toBeLessThan(0);
    expect(shareView(frame, 'leftShare').tip).toBeGreaterThan(0);
  });

  test('no car: no shares, no centre of gravity, level beams', () => {
    const empty = exampleFrame({ balance: null });
    expect(shareView(empty, 'crossShare')).toEqual({
      number: null,
      u: null,
      tip: null,
      stale: false,
    });
    expect(cgView(empty)).toBeNull();
    expect(cgView(null)).toBeNull();
  });

  test('the total tips against the last capture, and is level and dotted without one', () => {
    const frame = exampleFrame();
    expect(totalView(frame, 'kg', null).tip).toBeNull();
    expect(totalView(frame, 'kg', 1305).tip).toBeCloseTo(0, 9);
    expect(totalView(frame, 'kg', 1290).tip).toBeLessThan(0);
  });

  test('the centre of gravity in words', () => {
    // Design 6: a = 2.700 m × (344.789 + 340.336) / 1305 = 1.4175 m; 6 mm left.
    expect(cgView(exampleFrame())?.words.replaceAll('\u00A0', ' ')).toMatch(
      /^1417\.5 ±0\.\d+ mm behind the front axle, 6\.0 ±0\.\d+ mm left$/u,
    );
    const moving = cgView(exampleFrame({ stillness: 'moving' }));
    expect(moving?.words).toMatch(/^1418\u00A0mm behind the front axle, 6\u00A0mm left$/u);
    expect(moving?.ring).toBeGreaterThanOrEqual(0.005);
  });

  test('one stale corner makes them old', () => {
    const frame = exampleFrame({}, (corner) => (corner === 'RR' ? { status: 'stale' } : {}));
    expect([shareView(frame, 'frontShare').stale, cgView(frame)?.stale]).toEqual([true, true]);
  });
});

describe('the plan', () => {
  test.each([
    [792, 390],
    [912, 360],
    [676, 486],
    [1400, 900],
  ])('%s × %s: to scale, blocks clear of each other and of the wheels', (width, height) => {
    const plan = planGeometry(EXAMPLE_CAR, width, height);
    expect(plan.rearAxle - plan.frontAxle).toBeCloseTo(EXAMPLE_CAR.wheelbase * plan.scale, 9);
    const front = blockTop(plan, 'front');
    const rear = blockTop(plan, 'rear');
    expect(front).toBeGreaterThanOrEqual(0);
    expect(front + plan.block.height).toBeLessThanOrEqual(rear);
    expect(rear + plan.block.height).toBeLessThanOrEqual(height);
    const wheelEdge = plan.centre - (EXAMPLE_CAR.trackFront / 2 + 0.14) * plan.scale;
    expect(plan.block.width).toBeLessThan(wheelEdge);
    expect(plan.frontAxle).toBeGreaterThan(0);
    expect(plan.rearAxle).toBeLessThan(height);
  });
});

describe('words and ids', () => {
  test('signal and losses', () => {
    expect(signalWords(null)).toEqual({ bars: 0, text: 'unknown' });
    expect(signalWords(-61)).toEqual({ bars: 3, text: 'good, \u221261\u00A0dBm' });
    expect(signalWords(-99).bars).toBe(0);
    const pad = examplePad('LF', 'RIG-0001');
    expect(lossWords(pad)).toBe('none of 12345');
    expect(lossWords({ ...pad, missing: 2, late: 1 })).toBe('2 missing, 1 late of 12347');
  });

  test('numbers of the rail are their places; no other key leads anywhere', () => {
    expect(['1', '2', '3', '4', '9', '0'].map(placeOfKey)).toEqual([
      'patch',
      'pads',
      'balance',
      'adjust',
      'garage',
      null,
    ]);
  });

  test('ids are UUIDv7 and sort by age', () => {
    const ids = Array.from({ length: 50 }, newId);
    for (const id of ids)
      expect(id).toMatch(/^[\da-f]{8}-[\da-f]{4}-7[\da-f]{3}-[89ab][\da-f]{3}-[\da-f]{12}$/u);
    const stamps = ids.map((id) => Number.parseInt(id.replace('-', '').slice(0, 12), 16));
    expect(Math.abs(Date.now() - stamps[0]!)).toBeLessThan(5000);
    expect(stamps.toSorted((a, b) => a - b)).toEqual(stamps);
  });
});
