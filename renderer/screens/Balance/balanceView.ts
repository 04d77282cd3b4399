import { EMPTY_PADS_TOTAL } from '../../../core/answers/cornerCheck.ts';
import { lengthShown, massShown, shareShown, type Shown } from '../../../core/format/quantity.ts';
import type { Frame } from '../../../core/contract/events.ts';
import type { Measured } from '../../../core/measured.ts';
import { CORNERS } from '../../../core/corners.ts';
import type { MassUnit } from '../../../core/units.ts';
import { roughDecimals } from './cornerView.ts';

/** One beam's figure and how far it tips. */
export interface BeamView {
  readonly number: string | null;
  readonly u: string | null;
  /** −1 to 1 of the travel, in steps of a two-hundredth so that noise redraws nothing. */
  readonly tip: number | null;
  readonly stale: boolean;
}

/** A share this far from one half tips a beam to its end. Chosen for the eye. */
const SHARE_TRAVEL = 0.06;
/** A total this far from the last capture's, as a part of it, tips its beam to its end. */
const TOTAL_TRAVEL = 0.02;

const NOTHING: BeamView = { number: null, u: null, tip: null, stale: false };

const isOld = (frame: Frame): boolean =>
  CORNERS.some((corner) => frame.corners[corner].status === 'stale');

const stepped = (tip: number): number => Math.round(Math.max(-1, Math.min(1, tip)) * 200) / 200;

/** Whether the four loads are a car, so that shares and a centre of gravity mean something. */
export const hasCar = (frame: Frame | null): boolean =>
  frame !== null && frame.balance !== null && frame.balance.total.value >= EMPTY_PADS_TOTAL;

const known = (frame: Frame, { u }: Measured): number | { readonly decimals: number } =>
  frame.stillness === 'settled' || (isOld(frame) && frame.corners.LF.mean !== null)
    ? u
    : { decimals: roughDecimals(frame.stillness) };

/** The figure and tip of one share; the left end of its beam is the part that is named. */
export const shareView = (
  frame: Frame | null,
  which: 'frontShare' | 'leftShare' | 'crossShare',
): BeamView => {
  if (!frame?.balance || !hasCar(frame)) return NOTHING;
  const share = frame.balance[which];
  const { number, u } = shareShown(share.value, known(frame, share));
  return { number, u, tip: stepped((share.value - 0.5) / SHARE_TRAVEL), stale: isOld(frame) };
};

/** The total; it tips against the last capture, if there is one. */
export const totalView = (frame: Frame | null, unit: MassUnit, last: number | null): BeamView => {
  if (!frame?.balance) return NOTHING;
  const { total } = frame.balance;
  const { number, u } = massShown(unit, total.value, known(frame, total));
  const tip = last === null ? null : stepped(-(total.value / last - 1) / TOTAL_TRAVEL);
  return { number, u, tip, stale: isOld(frame) };
};

/** The centre of gravity on the plan, metre, and in words. */
export interface CgView {
  readonly behindFront: number;
  readonly left: number;
  readonly ring: number;
  readonly words: string;
  readonly stale: boolean;
}

const place = (value: number, u: number): Shown => lengthShown(Math.abs(value), u);
/** While the car moves its centre of gravity is not known better than this, m. */
const ROUGH = 0.005;

/** Where the centre of gravity is; null while there is no car. Steps of a millimetre. */
export const cgView = (frame: Frame | null): CgView | null => {
  if (!frame?.balance || !hasCar(frame)) return null;
  const { cgBehindFrontAxle: behind, cgLeftOfCentre: left } = frame.balance;
  const isKnown = typeof known(frame, behind) === 'number';
  const uBehind = isKnown ? behind.u : Math.max(ROUGH, behind.u);
  const uLeft = isKnown ? left.u : Math.max(ROUGH, left.u);
  const back = place(behind.value, uBehind);
  const side = place(left.value, uLeft);
  const sideWord = left.value >= 0 ? 'left' : 'right';
  const withU = (shown: Shown): string =>
    `${shown.number}${isKnown ? `\u00A0±${shown.u ?? ''}` : ''}\u00A0mm`;
  return {
    behindFront: Math.round(behind.value * 1000) / 1000,
    left: Math.round(left.value * 1000) / 1000,
    ring: Math.max(uBehind, uLeft),
    words: `${withU(back)} behind the front axle, ${withU(side)} ${sideWord}`,
    stale: isOld(frame),
  };
};
