import type { StandingCar, Supports } from '../../adjust/statics.ts';
import type { Corner, PerCorner } from '../../corners.ts';
import type { Measured } from '../../measured.ts';

/** A place of the car where mass comes and goes; x forward of the front axle, y left, metre. */
export interface MassPlace {
  readonly kind: 'fuel' | 'ballast' | 'driver';
  readonly name: string;
  readonly x: number;
  readonly y: number;
}

/** The car as both records found it, as far as it decides what a cause does to the items. */
export interface CauseCar {
  readonly standing: StandingCar;
  readonly bars: Supports['bars'];
  readonly places: readonly MassPlace[];
  /** Radii of the set-up wheels, metre; null on tyres or where they are not known. */
  readonly wheelRadii: PerCorner<Measured> | null;
  /** Camber per metre of bump, rad/m, against the body; null is not known and taken as none. */
  readonly camberGain: PerCorner<number> | null;
  /** Toe-in per metre of bump, rad/m; null is not known and taken as none. */
  readonly bumpSteer: PerCorner<number> | null;
  /** Relative standard uncertainty of the car's rates, common to all; 0.03 is common practice. */
  readonly rateUncertainty: number;
}

/** What an item measures, so far as causes reach it. Corner weights in kg, the rest SI. */
export type Measures =
  | { readonly what: 'corner weight' | 'camber' | 'toe' | 'caster'; readonly corner: Corner }
  | {
      readonly what: 'ride height';
      readonly name: string;
      readonly x: number;
      readonly y: number;
      /** Measured from one plane under the car (patch or ground), or from the pad of a corner. */
      readonly from: 'plane' | Corner;
    }
  | { readonly what: 'other' };
