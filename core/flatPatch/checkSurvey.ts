import { listed } from '../answers/answer.ts';
import { CORNERS } from '../corners.ts';
import type { LevelSurvey, SurveyFinding, SurveyRefusal } from './levelSurvey.ts';

const twice = (ids: readonly string[]): string | null =>
  ids.find((id, index) => ids.indexOf(id) !== index) ?? null;

/** Refuses a survey whose lists do not belong together; null where they do. */
export const shapeRefusal = (survey: LevelSurvey): SurveyRefusal | null => {
  const refuse = (why: string, next: string): SurveyRefusal => ({
    ok: false,
    code: 'not a survey',
    why,
    next,
    findings: [],
  });
  const points = survey.points.map(({ id }) => id);
  const setUps = survey.setUps.map(({ id }) => id);
  const doubled = twice(points) ?? twice(setUps);
  if (doubled !== null)
    return refuse(`Two points or two set-ups are called ${doubled}.`, 'Give each its own name.');
  const stray = survey.sights.find(
    ({ point, setUp }) => !points.includes(point) || !setUps.includes(setUp),
  );
  if (stray)
    return refuse(
      `A sight names point ${stray.point} from set-up ${stray.setUp}, and one of them is not in the lists.`,
      'Add the point or the set-up, or correct its name.',
    );
  const { instrument, sightScatter } = survey;
  const sizes = [
    ...survey.points.flatMap(({ x, y }) => [x, y]),
    ...survey.setUps.flatMap(({ place }) => (place ? [place.x, place.y] : [])),
    ...survey.sights.flatMap(({ reading }) => (reading === null ? [] : [reading])),
  ];
  if (!sizes.every(Number.isFinite))
    return refuse('A place or a reading is not a number.', 'Leave a missing reading empty.');
  const notBelowZero = [
    instrument.step,
    instrument.staffLength ?? 0,
    typeof instrument.cone === 'number' ? instrument.cone : 0,
    instrument.tilt ?? 0,
  ];
  if (!notBelowZero.every((each) => each >= 0 && each < Infinity))
    return refuse('A size of the instrument is below zero.', 'Correct step, staff, cone or tilt.');
  if (sightScatter && !(sightScatter.sd > 0 && sightScatter.sd < Infinity && sightScatter.dof > 0))
    return refuse(
      'The stated scatter of a sight is not above zero.',
      'State it from earlier surveys, or leave it empty and repeat the sights.',
    );
  return null;
};

/**
 * Refuses a survey in which a pad was not read, or two pads are tied by no common point; null where
 * all four hang together. A pad read from two set-ups ties them, as it is one rigid plane.
 */
export const connectionRefusal = (
  survey: LevelSurvey,
  kept: readonly number[],
  findings: readonly SurveyFinding[],
): SurveyRefusal | null => {
  const places = kept.flatMap((index) => {
    const sight = survey.sights[index];
    const point = survey.points.find(({ id }) => id === sight?.point);
    return sight && point ? [{ setUp: sight.setUp, at: point.pad ?? `mark ${point.id}` }] : [];
  });
  const unseen = CORNERS.filter((corner) => !places.some(({ at }) => at === corner));
  if (unseen.length > 0)
    return {
      ok: false,
      code: 'no sight',
      why: `No sight of ${listed(unseen)}${findings.length > 0 ? ' is left' : ''}.`,
      next: `Read at least the middle of ${listed(unseen)}.`,
      findings,
    };
  const piece = new Map(survey.setUps.map(({ id }) => [id, id]));
  for (const { setUp, at } of places) {
    const [a, b] = [piece.get(setUp), piece.get(at) ?? piece.get(setUp)];
    piece.set(at, b as string);
    if (a !== b) for (const [key, value] of piece) if (value === b) piece.set(key, a as string);
  }
  const pieces = [...Map.groupBy(CORNERS, (corner) => piece.get(corner)).values()];
  if (pieces.length > 1)
    return {
      ok: false,
      code: 'not connected',
      why: `No point ties ${pieces.map((corners) => listed(corners)).join(' to ')}: they were read from set-ups that share none.`,
      next: 'Read one point of each group from the other set-up too, better three.',
      findings,
    };
  return null;
};
