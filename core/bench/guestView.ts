import type { Adjuster } from '../adjust/adjuster.ts';
import type { Call } from '../adjust/call.ts';
import type { CallProgress } from '../adjust/progress.ts';
import { turnsInWords } from '../adjust/turnsInWords.ts';
import type { Frame } from '../contract/events.ts';
import type { GuestCall, GuestView } from '../contract/guestView.ts';
import type { Settings } from '../contract/settings.ts';
import { CORNERS, perCorner } from '../corners.ts';

/** What the mechanic under the car is shown: out of what every screen is shown, and no more. */

const said = (progress: CallProgress, adjuster: Adjuster): string => {
  const steps = Math.round(progress.remaining * adjuster.stepsPerTurn);
  const left = turnsInWords(steps, adjuster);
  switch (progress.verdict) {
    case 'not begun':
      return 'Nothing has moved yet.';
    case 'under way':
      return steps > 0 ? `${left} to go` : 'Nearly there.';
    case 'reached':
      return progress.resolves ? 'Stop: reached.' : 'About there: count the thread.';
    case 'over':
      return `Too far: back ${steps === 0 ? 'a little' : left}.`;
    case 'wrong sense':
      return 'Wrong way or wrong corner: stop.';
  }
};

/** A call as a guest is told of it; `progress` is null while the loads tell nothing. */
export const guestCall = (
  call: Call,
  adjuster: Adjuster,
  progress: CallProgress | null,
): GuestCall => ({
  corner: call.corner,
  way: call.steps > 0 ? 'up' : 'down',
  turns: turnsInWords(call.steps, adjuster),
  progress: progress && {
    verdict: progress.verdict,
    share: progress.share,
    said: said(progress, adjuster),
  },
});

/** The view of a moment, from the frame of that moment. */
export const guestView = (
  frame: Frame,
  about: {
    readonly settings: Settings;
    readonly isPractice: boolean;
    readonly call: GuestCall | null;
  },
): GuestView => {
  const { settings, isPractice, call } = about;
  const share = frame.balance?.crossShare ?? null;
  return {
    t: frame.t,
    isPractice,
    isCalibrated: CORNERS.every((corner) => {
      const { status, calibrated } = frame.corners[corner];
      return calibrated || status === 'absent';
    }),
    unit: settings.massUnit,
    labels: settings.cornerLabels,
    call,
    corners: perCorner((corner) => {
      const { status, age, mass, stillness, mean, u, overload, zeroed } = frame.corners[corner];
      return { status, age, mass, stillness, mean, u, overload, zeroed };
    }),
    stillness: frame.stillness,
    cross: { diagonal: settings.cross, share: share && { value: share.value, u: share.u } },
  };
};
