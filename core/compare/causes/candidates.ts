import { CORNERS } from '../../corners.ts';
import type { CauseWhat } from './cause.ts';
import type { CauseCar, Measures } from './causeCar.ts';

/** An item to be explained: its id and what it measures. */
export interface CauseItem {
  readonly id: string;
  readonly measures: Measures;
}

const pairsOf = <T>(list: readonly T[]): readonly (readonly [T, T])[] =>
  list.flatMap((one, index) => list.slice(index + 1).map((other) => [one, other] as const));

/** Everything that is thought of, whether these items can see it or not. */
export const candidates = (items: readonly CauseItem[], car: CauseCar): readonly CauseWhat[] => {
  const eachCorner = (
    ['pad height', 'pad', 'wheel', 'strut', 'toe link', 'camber shim'] as const
  ).flatMap((kind) => CORNERS.map((corner): CauseWhat => ({ kind, corner })));
  const { barFront, barRear } = car.standing.car;
  const axles = (['front', 'rear'] as const).filter(
    (axle) => car.bars === 'on' && (axle === 'front' ? barFront : barRear) > 0,
  );
  const ballast = car.places.filter(({ kind }) => kind === 'ballast');
  const exchanged = car.wheelRadii === null ? [] : pairsOf(CORNERS);
  return [
    ...eachCorner,
    ...exchanged.map(([one, other]): CauseWhat => ({ kind: 'wheels exchanged', one, other })),
    ...axles.map((axle): CauseWhat => ({ kind: 'bar', axle })),
    { kind: 'twist' },
    ...car.places.map((place): CauseWhat => ({ kind: 'mass', place })),
    ...pairsOf(ballast).map(([from, to]): CauseWhat => ({ kind: 'ballast moved', from, to })),
    { kind: 'mass along' },
    { kind: 'mass across' },
    ...items.flatMap(({ id, measures }): readonly CauseWhat[] =>
      measures.what === 'ride height'
        ? [{ kind: 'height point', item: id, name: measures.name }]
        : [],
    ),
  ];
};
