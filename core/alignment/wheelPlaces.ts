import { CORNERS, inOrder, type PerCorner } from '../corners.ts';
import type { Measured } from '../measured.ts';
import { found, refused, tooUncertain, type Outcome } from './outcome.ts';
import { propagatedJointly } from './propagated.ts';

export interface WheelPlacesInput {
  /** Along each string, from the front bar back to the hub centre, metre. */
  readonly behindBar: PerCorner<Measured>;
  /** Both diagonals of the strings' rectangle and its length; null where they were not measured. */
  readonly box: {
    readonly leftFrontToRightRear: Measured;
    readonly rightFrontToLeftRear: Measured;
    readonly barsApart: Measured;
  } | null;
}

export interface WheelPlaces {
  readonly wheelbaseLeft: Measured;
  readonly wheelbaseRight: Measured;
  /** Left less right: no bar comes into it. */
  readonly wheelbaseDifference: Measured;
  /**
   * How far the left wheel stands behind the right one; null where the box's diagonals were not
   * measured, for then the bar is not known to be square.
   */
  readonly setbackFront: Measured | null;
  readonly setbackRear: Measured | null;
}

/** More than this between the two sides is a slip. Common practice, no source. */
const MOST_DIFFERENCE = 0.1;

/**
 * Wheelbase on both sides, and setback of both axles, from hub centres along the strings. Bars that are
 * not square to the strings put the left end s ahead of the right one: the diagonals of a sheared
 * rectangle of length B say s = (d₁² − d₂²)/(4·B), and it is taken out of the left distances.
 */
export const wheelPlaces = ({ behindBar, box }: WheelPlacesInput): Outcome<WheelPlaces> => {
  const given = [
    ...inOrder(behindBar),
    ...(box ? [box.leftFrontToRightRear, box.rightFrontToLeftRear, box.barsApart] : []),
  ];
  if (given.some(({ value }) => !(value > 0)))
    return refused(
      'A distance along the strings is not above zero.',
      'Put the front bar ahead of both front hubs and measure back from it.',
    );
  for (const [front, rear] of [
    ['LF', 'LR'],
    ['RF', 'RR'],
  ] as const)
    if (!(behindBar[rear].value > behindBar[front].value))
      return refused(
        `${rear} would stand ahead of ${front}.`,
        'Measure both from the front bar, or look which is which.',
      );
  const joint = propagatedJointly(given, ([lf = 0, rf = 0, lr = 0, rr = 0, d1 = 0, d2 = 0, b]) => {
    const ahead = b === undefined ? 0 : (d1 ** 2 - d2 ** 2) / (4 * b);
    return [lr - lf, rr - rf, lr - lf - (rr - rf), lf - ahead - rf, lr - ahead - rr];
  });
  const [left, right, difference, front, rear] = joint?.values ?? [];
  if (!left || !right || !difference || !front || !rear) return tooUncertain;
  if (Math.max(Math.abs(difference.value), Math.abs(front.value)) > MOST_DIFFERENCE)
    return refused(
      'Left and right differ by more than an axle can be set back.',
      `Measure ${CORNERS.join(', ')} again and look at their units.`,
    );
  return found(
    {
      wheelbaseLeft: left,
      wheelbaseRight: right,
      wheelbaseDifference: difference,
      setbackFront: box ? front : null,
      setbackRear: box ? rear : null,
    },
    box
      ? []
      : [
          'Setback needs a bar that is square: measure both diagonals of the strings and the length.',
        ],
  );
};
