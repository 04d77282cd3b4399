import { warpStiffness } from '../adjust/warp.ts';
import { cornerLabel, CORNERS, type CornerLabelStyle } from '../corners.ts';
import type { PatchEffects } from '../flatPatch/effect.ts';
import type { LevelledPatch } from '../flatPatch/levelPatch.ts';
import { changeText, MM, PERCENT, valueText, type Wanted } from '../format/valueShown.ts';
import type { Car } from '../sheet/car.ts';
import type { MassUnit } from '../units.ts';
import { NOT_KNOWN, type PutIn, type Worked } from './worked.ts';

const FINE = 1e-6;

/** How the twist of the patch and what it does to the car come about. */
export const patchWorked = (about: {
  readonly car: Car;
  /** Kilogram and m/s² of the car that stands on it. */
  readonly mass: number;
  readonly gravity: number;
  readonly patch: LevelledPatch | null;
  readonly effects: PatchEffects | null;
  readonly labels: CornerLabelStyle;
  readonly massUnit: MassUnit;
}): readonly Worked[] => {
  const { car, gravity, patch, effects, labels, massUnit } = about;
  const mass: Wanted = { kind: 'mass', unit: massUnit };
  const [lf, rf, lr, rr] = CORNERS.map((corner) => cornerLabel(corner, labels));
  const tracks: readonly PutIn[] = [
    { name: 'front track', value: valueText(MM, car.trackFront) },
    { name: 'rear track', value: valueText(MM, car.trackRear) },
  ];
  const stiffness = warpStiffness(car);
  const twist: PutIn = {
    name: 'twist',
    value: patch ? changeText(MM, patch.twist.value, FINE) : NOT_KNOWN,
  };
  const none = `${NOT_KNOWN} without a survey`;
  return [
    {
      what: 'Twist',
      formula: `${lf} − ${rf} − front track over rear track × (${lr} − ${rr}): how far ${lf} is out of the plane of the others`,
      put: [
        ...CORNERS.map((corner) => ({
          name: `height ${cornerLabel(corner, labels)}`,
          value: patch ? changeText(MM, patch.pads[corner].height.value, FINE) : NOT_KNOWN,
        })),
        ...tracks,
      ],
      result: patch ? twist.value : none,
      source: 'Least squares of all sights; four points less a plane leave one twist.',
    },
    {
      what: `Load of the twist on ${lf}, bars off`,
      formula: 'twist × warp stiffness of the car, over gravity',
      put: [
        twist,
        { name: 'warp stiffness', value: valueText({ kind: 'rate', unit: 'N/mm' }, stiffness, 1) },
        { name: 'gravity', value: `${gravity.toFixed(5)} m/s²` },
      ],
      result: patch ? changeText(mass, (stiffness * patch.twist.value) / gravity, 0.01) : none,
      source:
        'Compatibility of four springs and the chassis: the one pattern that equilibrium leaves free.',
    },
    {
      what: 'Cross by the patch, bars off',
      formula: `what ${rf} and ${lr} gain, over the total`,
      put: [
        ...(['RF', 'LR'] as const).map((corner) => ({
          name: `${cornerLabel(corner, labels)} gains`,
          value: effects
            ? changeText(mass, effects.barsOff.corners[corner].value, 0.001)
            : NOT_KNOWN,
        })),
        { name: 'total', value: valueText(mass, about.mass, 0) },
      ],
      result: effects ? changeText(PERCENT, effects.barsOff.cross.value, 1e-5) : none,
      source: 'Statics of this car on the heights surveyed, its own lean among them.',
    },
  ];
};
