import type { Measured } from '../measured.ts';
import { refused, tooUncertain, type Outcome, type Sides } from './outcome.ts';
import { propagatedJointly } from './propagated.ts';

/**
 * How the strings beside the car were squared, and what was left. All in metre; distances run outboard,
 * from the car to the string, and are read at right angles to it.
 */
export type StringSquareness =
  | {
      /** From the chassis datum, left and right alike, to the string at the front and the rear bar. */
      readonly to: 'chassis';
      readonly front: Sides<Measured>;
      readonly rear: Sides<Measured>;
      /** Along the car, between the two places. */
      readonly apart: Measured;
    }
  | {
      /** From the hub centres to the string; the centre line is then midway between the hubs of an axle. */
      readonly to: 'hubs';
      readonly front: Sides<Measured>;
      readonly rear: Sides<Measured>;
      readonly wheelbase: Measured;
      /** Between the two strings at the front and at the rear bar, and along the car between the bars. */
      readonly spacing: { readonly front: Measured; readonly rear: Measured };
      readonly apart: Measured;
    };

/** All measured numbers of it, in the order in which `skewOf` takes them. */
export const squarenessInputs = (strings: StringSquareness): readonly Measured[] => [
  strings.front.left,
  strings.front.right,
  strings.rear.left,
  strings.rear.right,
  strings.apart,
  ...(strings.to === 'hubs'
    ? [strings.wheelbase, strings.spacing.front, strings.spacing.rear]
    : []),
];

/**
 * Angle of each string to the car's centre line, rad, positive where it runs outward to the front: the
 * toe-in that a straight wheel would show. With hub centres, half-tracks t/2 = (spacing − left − right)/2
 * put the left string (spacing + left − right)/2 off the centre line at each axle.
 */
export const skewOf = (to: StringSquareness['to'], x: readonly number[]): Sides<number> => {
  const [frontLeft = 0, frontRight = 0, rearLeft = 0, rearRight = 0, apart = 0] = x;
  if (to === 'chassis')
    return {
      left: Math.atan((frontLeft - rearLeft) / apart),
      right: Math.atan((frontRight - rearRight) / apart),
    };
  const [wheelbase = 0, spacingFront = 0, spacingRear = 0] = x.slice(5);
  const opening = (spacingFront - spacingRear) / apart / 2;
  const turn = (frontLeft - frontRight - (rearLeft - rearRight)) / wheelbase / 2;
  return { left: Math.atan(opening + turn), right: Math.atan(opening - turn) };
};

/** A string further off than this was not squared. Common practice, no source. */
const MOST_SKEW = (2 * Math.PI) / 180;

/** What is left of the strings' squareness, or why it cannot be. */
export const stringSkew = (strings: StringSquareness): Outcome<Sides<Measured>> => {
  const lengths = [
    strings.apart,
    ...(strings.to === 'hubs'
      ? [strings.wheelbase, strings.spacing.front, strings.spacing.rear]
      : []),
  ];
  if (lengths.some(({ value }) => !(value > 0)))
    return refused(
      'A length along or across the strings is not above zero.',
      'Measure wheelbase, bars and string spacing again.',
    );
  const joint = propagatedJointly(squarenessInputs(strings), (x) => {
    const { left, right } = skewOf(strings.to, x);
    return [left, right];
  });
  const [left, right] = joint?.values ?? [];
  if (!left || !right) return tooUncertain;
  if (Math.max(Math.abs(left.value), Math.abs(right.value)) > MOST_SKEW)
    return refused(
      'A string runs more than two degrees off the car.',
      'Square the strings, or look for a distance typed in another unit.',
    );
  return { ok: true, result: { left, right }, warnings: [] };
};
