import { causeId } from '../compare/causes/cause.ts';
import type { KeptOf } from '../contract/kept.ts';
import type { Capture } from '../contract/records.ts';
import { CORNERS, cornerLabel, type Corner, type CornerLabelStyle } from '../corners.ts';
import { levelPatch } from '../flatPatch/levelPatch.ts';
import { patchMoved } from '../flatPatch/patchMoved.ts';
import { surveyOf } from '../flatPatch/surveyOf.ts';
import type { Car } from './car.ts';
import type { ValueSources } from './itemValue.ts';

/** What was looked at since, of pads and patch. */
export interface ChecksKept {
  readonly surveys: readonly KeptOf<'patch survey'>[];
  readonly massChecks: readonly KeptOf<'mass check'>[];
  /** Largest shift of a zero that is none, kg: the crew's setting. */
  readonly zeroShiftLimit: number;
}

export interface RuledOut {
  /** Causes that did not happen, by `causeId`. */
  readonly causes: readonly string[];
  /** What says so, and what would say the rest; one sentence each. */
  readonly words: readonly string[];
}

interface Asked {
  readonly car: Car;
  readonly before: ValueSources;
  readonly after: ValueSources;
  readonly isRelaid: boolean;
  readonly checks: ChecksKept;
  readonly labels: CornerLabelStyle;
}

const captureOf = ({ record, captures }: ValueSources): Capture | null => {
  const entry = record.entries.findLast((each) => each.is === 'capture' && !each.setAside);
  return (entry?.is === 'capture' && captures.get(entry.captureId)) || null;
};

/** A survey after the later capture that shows the patch as one before the earlier capture had it. */
const patchIsSame = (
  { car, isRelaid, checks }: Asked,
  [first, last]: readonly [Capture, Capture],
): boolean => {
  if (isRelaid || first.venueId !== last.venueId) return false;
  const told = [...new Map(checks.surveys.map((each) => [each.subject, each])).values()];
  const earlier = surveyOf(first, told)?.survey;
  const later = told.findLast(
    ({ at, survey }) => survey.venueId === last.venueId && at > last.takenAt,
  )?.survey;
  // Screws turned after the readings: the patch is no longer what they say.
  if (!earlier || !later || earlier.done.length > 0 || earlier.isWithCar !== later.isWithCar)
    return false;
  const [was, is] = [levelPatch(car, earlier.survey), levelPatch(car, later.survey)];
  return was.ok && is.ok && patchMoved(was.heights, is.heights).answer === 'same';
};

const zeroHolds = ({ zeroShift }: Capture, corner: Corner, limit: number): boolean => {
  const shift = zeroShift?.[corner] ?? null;
  return shift !== null && Math.abs(shift) <= limit;
};

/** The newest mass put on the pad since, under the calibration it was captured with, finds it the same. */
const spanHolds = (
  { corners, takenAt }: Capture,
  corner: Corner,
  massChecks: ChecksKept['massChecks'],
): boolean => {
  const { padSerial, calibrationId } = corners[corner];
  const newest = massChecks.findLast(
    (check) => check.subject === padSerial && check.calibrationId === calibrationId,
  );
  return newest !== undefined && newest.at > takenAt && newest.state === 'same';
};

/**
 * Causes that later looks at pads and patch rule out: a pad's height by a survey that shows the patch
 * where it was, a pad's reading where its zero was read after both captures and a mass checked since.
 */
export const ruledOut = (asked: Asked): RuledOut => {
  const [one, other] = [captureOf(asked.before), captureOf(asked.after)];
  if (!one || !other) return { causes: [], words: [] };
  const both = one.takenAt <= other.takenAt ? ([one, other] as const) : ([other, one] as const);
  const isSame = patchIsSame(asked, both);
  const pads = CORNERS.map((corner) => ({
    corner,
    label: cornerLabel(corner, asked.labels),
    zero: both.every((capture) => zeroHolds(capture, corner, asked.checks.zeroShiftLimit)),
    span: both.every((capture) => spanHolds(capture, corner, asked.checks.massChecks)),
  }));
  const labelled = (of: typeof pads): string => of.map(({ label }) => label).join(', ');
  const [whole, zeroOnly, spanOnly] = [
    pads.filter(({ zero, span }) => zero && span),
    pads.filter(({ zero, span }) => zero && !span),
    pads.filter(({ zero, span }) => !zero && span),
  ];
  return {
    causes: [
      ...(isSame ? CORNERS.map((corner) => causeId({ kind: 'pad height', corner })) : []),
      ...whole.map(({ corner }) => causeId({ kind: 'pad', corner })),
    ],
    words: [
      ...(isSame ? ['The patch was surveyed again and is where it was: no pad’s height.'] : []),
      ...(whole.length > 0
        ? [
            `The zeros were read after both captures and a mass checked since, all as before: not the pads ${labelled(whole)}.`,
          ]
        : []),
      ...(zeroOnly.length > 0
        ? [
            `Zeros as before on the pads ${labelled(zeroOnly)}: put a known mass on them, and their span is known too.`,
          ]
        : []),
      ...(spanOnly.length > 0
        ? [
            `A mass since finds the pads ${labelled(spanOnly)} the same: check the zeros after each capture, and they are ruled out.`,
          ]
        : []),
    ],
  };
};
