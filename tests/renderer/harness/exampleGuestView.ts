import type { GuestView } from '../../../core/contract/guestView.ts';
import { perCorner } from '../../../core/corners.ts';
import { EXAMPLE_MASSES } from './scenes.ts';

/** The invented car on the pads, settled, as a guest is told of it. */
export const exampleGuestView = (change: Partial<GuestView> = {}): GuestView => ({
  t: 100,
  isPractice: false,
  isCalibrated: true,
  unit: 'kg',
  labels: 'LF RF LR RR',
  call: null,
  corners: perCorner((corner) => ({
    status: 'live',
    age: 0.02,
    mass: EXAMPLE_MASSES[corner],
    stillness: 'settled',
    mean: EXAMPLE_MASSES[corner],
    u: 0.021,
    overload: false,
    zeroed: true,
  })),
  stillness: 'settled',
  cross: { diagonal: 'RF+LR', share: { value: 0.50373, u: 0.00002 } },
  ...change,
});

/** A call under way: right front up three quarters of a turn, half of it done. */
export const EXAMPLE_CALL: NonNullable<GuestView['call']> = {
  corner: 'RF',
  way: 'up',
  turns: '¾ turn',
  progress: { verdict: 'under way', share: 0.34, said: '½ turn to go' },
};
