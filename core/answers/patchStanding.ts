import type { StandingCar } from '../adjust/statics.ts';
import type { BenchState } from '../contract/events.ts';
import type { KeptOf } from '../contract/kept.ts';
import type { PatchSurvey } from '../contract/patchSurvey.ts';
import { judgePatch, patchEffects } from '../flatPatch/effect.ts';
import { levelPatch, type LevelledPatch } from '../flatPatch/levelPatch.ts';
import type { SurveyRefusal } from '../flatPatch/levelSurvey.ts';
import { patchMoved } from '../flatPatch/patchMoved.ts';
import { EXAMPLE_CAR_MASS, type Car } from '../sheet/car.ts';
import { kilogram, metre, metrePerSecond2 } from '../units.ts';
import type { Answer } from './answer.ts';
import { flatPatchAnswer, type PatchSeen } from './flatPatchAnswer.ts';

/** Cross weight that a patch may cost, as a share; common practice, no source. */
const WANTED_CROSS = 0.001;

/** The surveys as they were told last, the one that was begun last first. */
export const surveysKept = (
  kept: readonly KeptOf<'patch survey'>[],
): readonly KeptOf<'patch survey'>[] =>
  [...new Map(kept.map((record) => [record.subject, record])).values()].toReversed();

/** The car as it was last weighed; before that the one of the example's mass, which says the order of size. */
export const carOnPatch = ({
  car,
  captures,
  gravity,
}: Pick<BenchState, 'car' | 'captures' | 'gravity'>): StandingCar => {
  const balance = captures.find(({ setAside, carId }) => !setAside && carId === car.id)?.balance;
  return {
    car,
    mass: kilogram(balance?.total.value ?? EXAMPLE_CAR_MASS.mass),
    frontShare: balance?.frontShare.value ?? EXAMPLE_CAR_MASS.frontShare,
    cgLeft: metre(balance?.cgLeftOfCentre.value ?? 0),
    gravity: metrePerSecond2(gravity),
  };
};

/** What the sights of a survey say; null before any was read. */
export const levelled = (
  car: Car,
  survey: PatchSurvey | null,
): LevelledPatch | SurveyRefusal | null =>
  survey?.survey.sights.some(({ reading }) => reading !== null)
    ? levelPatch(car, survey.survey)
    : null;

/** What a patch does to the car, whether that is good enough, and whether it moved since the survey before. */
export const judgedPatch = (of: {
  readonly patch: LevelledPatch | SurveyRefusal | null;
  readonly earlier: LevelledPatch | SurveyRefusal | null;
  /** Read with the car on the pads. */
  readonly isWithCar: boolean;
  readonly standing: StandingCar;
}): Pick<PatchSeen, 'patch' | 'effects' | 'verdict' | 'moved'> => {
  const { patch, earlier, isWithCar, standing } = of;
  const effects = patch?.ok ? patchEffects(standing, patch.heights) : null;
  return {
    patch,
    effects,
    verdict: effects && judgePatch(effects.barsOff, WANTED_CROSS),
    moved:
      patch?.ok && earlier?.ok && isWithCar ? patchMoved(earlier.heights, patch.heights) : null,
  };
};

/** How "Is the ground flat?" stands: the survey that was begun last, against the one before it. */
export const patchStanding = (of: {
  readonly on: Pick<BenchState, 'car' | 'captures' | 'gravity' | 'settings'>;
  readonly surveys: readonly KeptOf<'patch survey'>[];
}): Answer => {
  const { car, settings } = of.on;
  const [newest, before] = surveysKept(of.surveys);
  return flatPatchAnswer({
    ...judgedPatch({
      patch: levelled(car, newest?.survey ?? null),
      earlier: levelled(car, before?.survey ?? null),
      isWithCar: newest?.survey.isWithCar ?? false,
      standing: carOnPatch(of.on),
    }),
    massUnit: settings.massUnit,
    labels: settings.cornerLabels,
  });
};
