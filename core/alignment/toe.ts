import { CORNERS, perCorner, type Corner, type PerCorner } from '../corners.ts';
import type { Measured } from '../measured.ts';
import { found, refused, tooUncertain, type Outcome, type Refused } from './outcome.ts';
import { propagatedJointly, type Joint } from './propagated.ts';
import { skewOf, squarenessInputs, stringSkew, type StringSquareness } from './stringSkew.ts';

/** String to rim edge at the front and at the rear of one wheel, hub height, metre. */
export interface StringReading {
  readonly front: Measured;
  readonly rear: Measured;
}

export interface ToeReading extends StringReading {
  /** Between the two rim edges, the rim's measuring diameter, metre. */
  readonly diameter: number;
  /** Read again with the wheel rolled on by half a turn; null leaves its run-out in the toe. */
  readonly halfTurn: StringReading | null;
}

export interface ToeInput {
  /** Null for a wheel that was not read. */
  readonly wheels: PerCorner<ToeReading | null>;
  readonly strings: StringSquareness;
  /** A box that hangs on the car goes with it; one that stands on the ground does not. */
  readonly box: 'on the car' | 'on the ground';
  /** The car was raised, rolled or lowered since the strings were squared to it. */
  readonly movedSinceSquared: boolean;
}

export interface AxleToe {
  /** Left + right, rad, toe-in positive. */
  readonly total: Measured;
  /** (left − right)/2, rad, positive to the right; null where the strings are not square to the car. */
  readonly thrust: Measured | null;
}

export interface Toe {
  /** Per wheel, rad, toe-in positive; null where it was not read or the strings are not square. */
  readonly wheels: PerCorner<Measured | null>;
  /** Run-out taken out of each wheel, rad; null where the wheel was not turned. */
  readonly runOut: PerCorner<Measured | null>;
  /** Null where a wheel of the axle was not read. */
  readonly front: AxleToe | null;
  readonly rear: AxleToe | null;
  /** Of the wheels in the order of CORNERS, rad²: the strings are common to them. Zero for null. */
  readonly covariance: readonly (readonly number[])[];
}

/** More toe than this is a slip, not a setting. Common practice, no source. */
const MOST_TOE = (10 * Math.PI) / 180;

/** The toe of a wheel as a length at a diameter, metre: what a scale would show there. */
export const toeLength = (toe: number, diameter: number): number => diameter * Math.sin(toe);

/** And back: the angle whose edges differ by `length` over a diameter measured along the wheel's face. */
export const toeAngle = (length: number, diameter: number): number => Math.asin(length / diameter);

const readingsOf = (wheel: ToeReading): readonly StringReading[] =>
  wheel.halfTurn ? [wheel, wheel.halfTurn] : [wheel];

const impossible = (corner: Corner, wheel: ToeReading): Refused | null => {
  if (!(wheel.diameter > 0) || wheel.diameter === Infinity)
    return refused(`${corner}: the measuring diameter is not above zero.`, 'Give it in the car.');
  for (const { front, rear } of readingsOf(wheel)) {
    if (!(front.value > 0 && rear.value > 0))
      return refused(
        `${corner}: the string does not pass outside the rim.`,
        'Read both distances from the string to the rim edge.',
      );
    if (!(Math.abs(front.value - rear.value) < wheel.diameter * Math.sin(MOST_TOE)))
      return refused(
        `${corner}: the two distances differ by more than any wheel is toed.`,
        'Read both again, and look at their units.',
      );
  }
  return null;
};

const apparent = (front: number, rear: number, diameter: number): number =>
  toeAngle(front - rear, diameter);

/**
 * Toe of the wheels by string and scale: (front − rear) over the measuring diameter is the angle to the
 * string, and the string's own angle to the car is taken out. The scale's zero cancels in the
 * difference. Where a standing box and the car moved against each other, what is left is each axle's
 * total: turning the pair of strings adds to the one side what it takes from the other.
 */
export const toe = (input: ToeInput): Outcome<Toe> => {
  for (const corner of CORNERS) {
    const wheel = input.wheels[corner];
    const refusal = wheel && impossible(corner, wheel);
    if (refusal) return refusal;
  }
  const skew = stringSkew(input.strings);
  if (!skew.ok) return skew;

  const read = CORNERS.flatMap((corner) => {
    const wheel = input.wheels[corner];
    return wheel ? [{ corner, wheel }] : [];
  });
  const common = squarenessInputs(input.strings);
  const own = read.flatMap(({ wheel }) =>
    readingsOf(wheel).flatMap(({ front, rear }) => [front, rear]),
  );
  const joint = propagatedJointly([...common, ...own], (x) => {
    const string = skewOf(input.strings.to, x);
    const left = x.slice(common.length);
    const wheels = new Map(
      read.map(({ corner, wheel }) => {
        const angles = readingsOf(wheel).map(() => {
          const [front = 0, rear = 0] = left.splice(0, 2);
          return apparent(front, rear, wheel.diameter);
        });
        const [first = 0, second = first] = angles;
        const side = corner === 'LF' || corner === 'LR' ? string.left : string.right;
        return [corner, { toe: (first + second) / 2 - side, runOut: (first - second) / 2 }];
      }),
    );
    const at = (corner: Corner): number => wheels.get(corner)?.toe ?? 0;
    return [
      ...CORNERS.map(at),
      ...CORNERS.map((corner) => wheels.get(corner)?.runOut ?? 0),
      at('LF') + at('RF'),
      (at('LF') - at('RF')) / 2,
      at('LR') + at('RR'),
      (at('LR') - at('RR')) / 2,
    ];
  });
  if (!joint) return tooUncertain;

  const square = input.box === 'on the car' || !input.movedSinceSquared;
  const axle = (left: Corner, right: Corner, from: number): AxleToe | null =>
    input.wheels[left] && input.wheels[right]
      ? { total: valueAt(joint, from), thrust: square ? valueAt(joint, from + 1) : null }
      : null;
  const warnings: string[] = [];
  if (!square)
    warnings.push(
      'The car moved since the strings were squared to it: only the total toe of each axle holds. Square them again.',
    );
  if (read.some(({ wheel }) => !wheel.halfTurn))
    warnings.push(
      'Run-out of the wheels is in the toe: read again after half a turn of each wheel to take it out.',
    );
  return found(
    {
      wheels: perCorner((corner, i) => (input.wheels[corner] && square ? valueAt(joint, i) : null)),
      runOut: perCorner((corner, i) =>
        input.wheels[corner]?.halfTurn ? valueAt(joint, 4 + i) : null,
      ),
      front: axle('LF', 'RF', 8),
      rear: axle('LR', 'RR', 10),
      covariance: joint.covariance
        .slice(0, 4)
        .map((row) => row.slice(0, 4).map((entry) => (square ? entry : 0))),
    },
    warnings,
  );
};

const valueAt = (joint: Joint, index: number): Measured => joint.values[index] as Measured;
