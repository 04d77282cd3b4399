import { CORNERS, perCorner, type Corner, type PerCorner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import type { Car } from '../sheet/car.ts';
import type { Adjustment } from './networkAdjustment.ts';
import { closingErrors, type ClosingError } from './closingErrors.ts';
import { connectionRefusal, shapeRefusal } from './checkSurvey.ts';
import { findGrossReadings } from './grossReadings.ts';
import { combineHeights, twistAndLevel, type Heights, type Level } from './heights.ts';
import type { LevelSurvey, SurveyFinding, SurveyRefusal } from './levelSurvey.ts';
import { buildNetwork } from './network.ts';
import { adjustWithScatter, type SightScatter } from './sightScatter.ts';
import { likeliestSuspicion } from './snooping.ts';
import { missingSights, remarks, suspicionInWords } from './surveyFindings.ts';
import { findWrongSetUp } from './wrongSetUp.ts';

/** One pad as it stands. */
export interface PadLevel {
  /** Over the mean of the four pads, where its wheel stands; metre. */
  readonly height: Measured;
  /** Rise per metre forward and to the left, radian; null where its points do not show it. */
  readonly tilt: { readonly forward: Measured; readonly left: Measured } | null;
}

/** A flat patch as its survey shows it. */
export interface LevelledPatch {
  readonly ok: true;
  readonly heights: Heights;
  readonly pads: PerCorner<PadLevel>;
  /** How far the left front is out of the plane of the other three, metre; positive is high. */
  readonly twist: Measured;
  readonly level: Level;
  readonly scatter: SightScatter;
  /** Closing errors of the independent loops of set-ups. */
  readonly closing: readonly ClosingError[];
  /** Cone error as the sights show it, metre per metre; null where none is in the equations. */
  readonly cone: Measured | null;
  /** Reading less adjusted reading; null for a sight that was missing or left out. */
  readonly residuals: readonly (number | null)[];
  /** Places of the sights that were left out because they fit nothing. */
  readonly leftOut: readonly number[];
  readonly findings: readonly SurveyFinding[];
}

/** More left out than this share, and it is not known what is right. Common practice, no source. */
const MOST_LEFT_OUT = 1 / 4;
/** No staff repeats to a nanometre: what is left there is rounding of the arithmetic. */
const LEAST_SCATTER = 1e-9;

const refuse = (
  code: SurveyRefusal['code'],
  words: { readonly why: string; readonly next: string },
  findings: readonly SurveyFinding[],
): SurveyRefusal => ({ ok: false, code, ...words, findings });

const heightsOf = (adjustment: Adjustment, scatter: SightScatter): Heights => {
  const { network, solution } = adjustment;
  const columns = [
    ...CORNERS.map((corner) => network.pads[corner]?.height as number),
    ...network.marks.values(),
  ];
  // Over the mean of the four pads: where the datum lies drops out.
  const forms = columns.map((column) => {
    const form = new Array<number>(network.unknowns).fill(0);
    form[column] = 1;
    for (const pad of columns.slice(0, 4)) form[pad] = (form[pad] as number) - 0.25;
    return form;
  });
  const apply = (matrix: readonly (readonly number[])[]): number[][] => {
    const half = forms.map((form) =>
      matrix.map((row) => row.reduce((sum, value, k) => sum + value * (form[k] as number), 0)),
    );
    return forms.map((form) =>
      half.map((row) => row.reduce((sum, value, k) => sum + value * (form[k] as number), 0)),
    );
  };
  return {
    values: forms.map((form) => form.reduce((sum, a, k) => sum + a * (solution[k] as number), 0)),
    marks: [...network.marks.keys()],
    scattered: apply(adjustment.scattered),
    known: apply(adjustment.known),
    dof: scatter.dof,
  };
};

const unknownOf = (adjustment: Adjustment, column: number, dof: number): Measured => {
  const scattered = (adjustment.scattered[column] as number[])[column] as number;
  const variance = scattered + ((adjustment.known[column] as number[])[column] as number);
  return measured(
    adjustment.solution[column] as number,
    Math.sqrt(variance),
    scattered > 0 ? dof * (variance / scattered) ** 2 : Infinity,
  );
};

/**
 * Heights and tilts of the four pads, twist and level from a survey, by least squares over all
 * set-ups with full covariance. What fits nothing is named, left out of the heights and stays in the
 * survey. A survey that shows no heights is refused in words that say what to read.
 */
export const levelPatch = (car: Car, survey: LevelSurvey): LevelledPatch | SurveyRefusal => {
  const misshapen = shapeRefusal(survey);
  if (misshapen) return misshapen;
  const gross = findGrossReadings(survey);
  if (gross.refusal) return gross.refusal;
  const findings: SurveyFinding[] = [...missingSights(survey), ...gross.findings];
  const leftOut = new Set(gross.findings.flatMap(({ sights }) => sights));
  const read = survey.sights.flatMap(({ reading }, index) => (reading === null ? [] : [index]));

  for (;;) {
    const kept = read.filter((index) => !leftOut.has(index));
    const apart = connectionRefusal(survey, kept, findings);
    if (apart) return apart;
    const network = buildNetwork(car, survey, kept);
    const solved = adjustWithScatter(survey, network);
    if (!solved)
      return refuse(
        'not determined',
        {
          why: 'These sights do not tell pads, set-ups and instrument errors apart.',
          next:
            survey.instrument.cone === 'unknown'
              ? 'Read the same points from set-ups at other distances, or state the cone error.'
              : 'Read at least one point that lies still, better three, from every two set-ups.',
        },
        findings,
      );
    const { adjustment, scatter } = solved;
    if (!scatter || scatter.sd < LEAST_SCATTER)
      return refuse(
        'no scatter',
        scatter
          ? {
              why: 'All repeats are the same to the last digit, so nothing says how well they are read.',
              next: 'State the smallest step of the staff and the scatter of a sight.',
            }
          : {
              why: 'Every point was read once, so nothing says how well it is read.',
              next: 'Read every point again, or state the scatter of a sight.',
            },
        findings,
      );
    const suspicions = likeliestSuspicion(survey, adjustment);
    if (suspicions) {
      const wrong = findWrongSetUp(car, survey, kept);
      if (wrong) return { ...wrong, findings };
      findings.push(suspicionInWords(survey, suspicions));
      for (const { sights } of suspicions) for (const index of sights) leftOut.add(index);
      if (leftOut.size > MOST_LEFT_OUT * read.length)
        return refuse(
          'too many outliers',
          {
            why: `${leftOut.size} of ${read.length} sights do not fit the others.`,
            next: 'Look at the sights named, set the laser up again, and read all points again.',
          },
          findings,
        );
      continue;
    }

    const heights = heightsOf(adjustment, scatter);
    const closing = closingErrors(survey, kept, scatter);
    const residuals: (number | null)[] = survey.sights.map(() => null);
    adjustment.residuals.forEach((residual, i) => {
      residuals[network.rows[i]?.sight as number] = residual;
    });
    const pad = (corner: Corner, i: number): PadLevel => {
      const tilt = network.pads[corner]?.tilt;
      return {
        height: combineHeights(
          heights,
          [0, 1, 2, 3].map((k) => (k === i ? 1 : 0)),
        ),
        tilt: tilt
          ? {
              forward: unknownOf(adjustment, tilt.x, scatter.dof),
              left: unknownOf(adjustment, tilt.y, scatter.dof),
            }
          : null,
      };
    };
    return {
      ok: true,
      heights,
      pads: perCorner(pad),
      ...twistAndLevel(car, heights),
      scatter,
      closing,
      cone: network.cone === null ? null : unknownOf(adjustment, network.cone, scatter.dof),
      residuals,
      leftOut: [...leftOut].toSorted((a, b) => a - b),
      findings: [...findings, ...remarks(survey, { network, scatter, closing })],
    };
  }
};
