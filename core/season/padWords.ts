import { fixed, HARD_SPACE } from '../format/number.ts';
import { inWords, massShown } from '../format/quantity.ts';
import { STANDARD_GRAVITY, type MassUnit } from '../units.ts';
import type { SeasonPoint, SpanCheckPoint, ZeroPoint } from './padPoints.ts';
import { spanDrift } from './spanDrift.ts';
import {
  temperatureEffect,
  type TemperatureEffect,
  type TemperatureLack,
} from './temperatureEffect.ts';
import { warmUp } from './warmUp.ts';

/** A change of zero that matters, newton: 0.05 kg, half of what a crew acts on; common practice, no source. */
const ZERO_LIMIT = 0.05 * STANDARD_GRAVITY;
/** Zeros whose pads were switched on within this much of one another are of one day, s. */
const SAME_START = 60;

const lackInWords = (lack: TemperatureLack): string => {
  switch (lack.lack) {
    case 'points':
      return `${lack.have} of ${lack.need} points`;
    case 'range':
      return `temperatures over ${fixed(lack.haveKelvin, 1)} of ${fixed(lack.needKelvin, 0)} K`;
    case 'apart from time':
      return 'warm and late came together';
    case 'significance':
      return 'none stands out of the scatter';
  }
};

const effectInWords = (
  what: string,
  effect: TemperatureEffect,
  show: (perKelvin: number) => string,
): string =>
  effect.supported
    ? `Temperature moves the ${what}: ${show(effect.perKelvin.value)} ± ${show(effect.perKelvin.u)} per K, between ${fixed(effect.lowest, 0)} and ${fixed(effect.highest, 0)}${HARD_SPACE}°C.`
    : `Temperature on the ${what}: not estimated (${effect.why.map(lackInWords).join(', ')}).`;

/** The zeros since the pad was last switched on with enough of them; none where it does not say. */
const newestStart = (zeros: readonly (ZeroPoint & { readonly sinceOn: number })[]) => {
  const started = (zero: { readonly at: number; readonly sinceOn: number }): number =>
    zero.at - zero.sinceOn;
  const last = zeros.at(-1);
  return last ? zeros.filter((zero) => Math.abs(started(zero) - started(last)) < SAME_START) : [];
};

const warmUpInWords = (zeros: readonly ZeroPoint[], unit: MassUnit): string | null => {
  const told = zeros.flatMap((zero) =>
    zero.sinceOn === null ? [] : [{ ...zero, sinceOn: zero.sinceOn }],
  );
  if (told.length === 0) return null;
  const found = warmUp(
    newestStart(told).map(({ sinceOn, force }) => ({ sinceOn, value: force })),
    ZERO_LIMIT,
  );
  const show = (newtons: number): string =>
    inWords(massShown(unit, newtons / STANDARD_GRAVITY, { decimals: 3 }));
  switch (found.kind) {
    case 'cannot tell':
      return `Warm-up: ${found.pointsNeeded} more zeros since it was switched on would tell.`;
    case 'flat':
      return `Warm-up: none seen since it was switched on; up to ${show(found.couldHide)} could hide.`;
    case 'warming':
      return found.steadyAfter === null
        ? `Warming up: the zero moves by ${show(found.change.value)} and is not steady yet.`
        : `Warming up: the zero moves by ${show(found.change.value)}; steady ${fixed(found.steadyAfter / 60, 0)}${HARD_SPACE}min after switching on.`;
  }
};

const driftInWords = (
  checks: readonly SpanCheckPoint[],
  calibration: { readonly id: string; readonly madeAt: number; readonly uMass: number } | null,
  now: number,
): string | null => {
  if (!calibration) return null;
  const drift = spanDrift(
    checks
      .filter(({ calibrationId }) => calibrationId === calibration.id)
      .map(({ at, relative, u }) => ({ sinceCalibration: at - calibration.madeAt, relative, u })),
    { at: now - calibration.madeAt, uMass: calibration.uMass },
  );
  if (!drift.known) return 'Span: not checked since its calibration.';
  const percent = (share: number): string => `${fixed(100 * share, 3)}${HARD_SPACE}%`;
  return drift.verdict === 'drifts'
    ? `Span: drifted by ${percent(drift.drift.value)} ± ${percent(drift.drift.u)} since its calibration.`
    : `Span: no drift seen since its calibration; ${percent(drift.ifLeftIn)} could be there.`;
};

/** What the seasons of one pad say, in sentences. Times are wall-clock seconds. */
export const padWords = (
  points: readonly SeasonPoint[],
  about: {
    readonly calibration: {
      readonly id: string;
      readonly madeAt: number;
      readonly uMass: number;
    } | null;
    readonly now: number;
    readonly unit: MassUnit;
  },
): readonly string[] => {
  const zeros = points.filter((point) => point.kind === 'zero');
  const checks = points.filter((point) => point.kind === 'span check');
  const mass = (newtons: number): string =>
    inWords(massShown(about.unit, newtons / STANDARD_GRAVITY, { decimals: 4 }));
  const share = (relative: number): string => `${fixed(100 * relative, 4)}${HARD_SPACE}%`;
  return [
    driftInWords(checks, about.calibration, about.now),
    effectInWords(
      'zero',
      temperatureEffect(
        zeros.map(({ at, force, temperature }) => ({ at, value: force, temperature })),
      ),
      mass,
    ),
    effectInWords(
      'span',
      temperatureEffect(
        checks.map(({ at, relative, temperature }) => ({ at, value: relative, temperature })),
      ),
      share,
    ),
    warmUpInWords(zeros, about.unit),
  ].filter((sentence) => sentence !== null);
};
