import { describe, expect, test } from 'vitest';
import type { GuestView } from '../../core/contract/guestView.ts';
import { perCorner } from '../../core/corners.ts';
import { guestShown, nextChange } from '../../renderer/guest/guestShown.ts';
import { EXAMPLE_CALL, exampleGuestView } from './harness/exampleGuestView.ts';

const withCorner = (change: Partial<GuestView['corners']['LR']>): GuestView => {
  const view = exampleGuestView({ call: EXAMPLE_CALL });
  return { ...view, corners: { ...view.corners, LR: { ...view.corners.LR, ...change } } };
};

test('fresh: tenths for a wrench, the cross weight as far as it is known', () => {
  const shown = guestShown(exampleGuestView({ call: EXAMPLE_CALL }), 0.01);
  expect(perCorner((corner) => shown.corners[corner].number)).toEqual({
    LF: '312.4',
    RF: '307.5',
    LR: '344.8',
    RR: '340.3',
  });
  expect(shown.cross).toEqual({ label: 'Cross RF\u00A0+\u00A0LR', number: '50.37', isOld: false });
  expect(shown.call).toMatchObject({
    label: 'RF',
    name: 'right front',
    look: 'live',
    share: 0.34,
    said: '½ turn to go',
  });
  expect([shown.isSilent, shown.news, shown.tags]).toEqual([false, '', '']);
});

test('while the car moves no tenths are shown', () => {
  const moving = perCorner((corner) => ({
    ...exampleGuestView().corners[corner],
    stillness: 'moving' as const,
    mean: null,
    u: null,
  }));
  const shown = guestShown(
    exampleGuestView({
      corners: moving,
      stillness: 'moving',
      cross: { diagonal: 'LF+RR', share: { value: 0.4963, u: 0 } },
    }),
    0,
  );
  expect([shown.corners.LF.number, shown.cross.number]).toEqual(['312', '50']);
});

describe('old', () => {
  test.each<readonly [number, boolean]>([
    [0.47, false],
    [0.49, true],
  ])('half a second after the newest sample: %d s after a view of 0.02 s', (silent, isOld) => {
    const shown = guestShown(exampleGuestView({ call: EXAMPLE_CALL }), silent);
    expect(shown.corners.RF.status).toBe(isOld ? 'stale' : 'live');
    expect(shown.cross.isOld).toBe(isOld);
    expect(shown.call?.look).toBe(isOld ? 'old' : 'live');
  });

  test('every corner is drawn old when it is, not with the one before it', () => {
    const view = withCorner({ age: 0.07 });
    // Left rear at 0.43 s of silence, the others at 0.48 s, the link at 0.5 s.
    const after = [0.4, 0.44, 0.49, 0.6].map((silent) => nextChange(view, silent));
    expect(after.map((each) => Number(each.toFixed(6)))).toEqual([0.03, 0.04, 0.01, 0.1]);
  });

  test('silence is told with its length, and everything in sight is old', () => {
    const shown = guestShown(exampleGuestView({ call: EXAMPLE_CALL }), 3.25);
    expect(shown.news).toBe('Nothing heard for 3.2\u00A0s');
    expect(perCorner((corner) => shown.corners[corner].said)).toEqual(
      perCorner(() => '3.2\u00A0s old'),
    );
    expect(shown.call).toMatchObject({ share: null, said: 'No live loads: stop turning.' });
    expect(shown.stillness).toBeNull();
  });

  test('one pad: it alone is hatched, and the call and cross weight with it', () => {
    const shown = guestShown(withCorner({ status: 'stale', age: 1.4, stillness: null }), 0.02);
    expect(shown.corners.LR).toMatchObject({ status: 'stale', said: '1.4\u00A0s old' });
    expect(shown.corners.LF).toMatchObject({ status: 'live', said: '' });
    expect([shown.isSilent, shown.cross.isOld, shown.call?.look]).toEqual([false, true, 'old']);
  });
});

test.each<readonly [Partial<GuestView['corners']['LR']>, string, string]>([
  [{ status: 'absent', age: null, mass: null, mean: null, u: null }, '—', 'no pad heard'],
  [{ zeroed: false }, '—', 'no zero'],
  [{ overload: true }, '344.8', 'overload'],
])('a corner with %j', (change, number, said) => {
  expect(guestShown(withCorner(change), 0).corners.LR).toMatchObject({ number, said });
});

test('what is practice or not calibrated says so', () => {
  const shown = guestShown(exampleGuestView({ isPractice: true, isCalibrated: false }), 0);
  expect(shown.tags).toBe('practice\u00A0· not calibrated');
});
