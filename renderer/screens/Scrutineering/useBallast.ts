import { useState } from 'react';
import type { BallastShown } from '../../../core/contract/scrutineering.ts';
import { CORNERS, perCorner } from '../../../core/corners.ts';
import {
  ballastQuestion,
  type BallastQuestion,
} from '../../../core/scrutineering/ballastQuestion.ts';
import type { PlateSize } from '../../../core/scrutineering/ballastProblem.ts';
import type { Limit } from '../../../core/scrutineering/prediction.ts';
import { useKept } from '../../live/useKept.ts';
import { platesKept } from '../../../core/scrutineering/keptScrutineering.ts';
import type { Scrutineering } from './useScrutineering.ts';

const FREE: Limit = { low: null, high: null };

/** What is asked of the planner, put together from car, readings, rules, plates and wishes. */
export interface BallastAsked {
  readonly plates: readonly PlateSize[];
  readonly frontShare: Limit;
  readonly leftShare: Limit;
  readonly setFront: (band: Limit) => void;
  readonly setLeft: (band: Limit) => void;
  /** Ballast in the car when it was weighed, kg by place; null is not said anywhere. */
  readonly onBoard: Readonly<Record<string, number | null>>;
  readonly setOnBoard: (place: string, mass: number) => void;
  readonly question: BallastQuestion;
  readonly shown: BallastShown | null;
}

export const useBallast = (own: Scrutineering): BallastAsked | null => {
  const { state, sources, chosen, items: board, here } = own;
  const { car } = state;
  const shown = state.ballast?.problem.car.id === car.id ? state.ballast : null;
  const kept = useKept('plates');
  const [front, setFront] = useState<Limit | null>(null);
  const [left, setLeft] = useState<Limit | null>(null);
  const [typed, setTyped] = useState<Readonly<Record<string, number>>>({});
  if (!kept || !chosen) return null;

  const ofSheet = (item: string): Limit | null => {
    const sheet = here.sheets.findLast(({ carId }) => carId === car.id);
    const line = sheet?.lines.find((each) => each.item === item);
    return !line || line.target === null || line.tolerance === null
      ? null
      : { low: line.target - line.tolerance, high: line.target + line.tolerance };
  };
  const frontShare = front ?? shown?.problem.frontShare ?? ofSheet('frontShare') ?? FREE;
  const leftShare = left ?? shown?.problem.leftShare ?? ofSheet('leftShare') ?? FREE;
  const plates = platesKept(kept);

  const read = (id: string) => {
    const item = sources.items.get(id);
    const reading = item ? sources.ourReading(item) : null;
    return reading?.is === 'read' ? reading : null;
  };
  const weights = perCorner((corner) => read(`weight.${corner}`));
  const isWeighed = CORNERS.every((corner) => weights[corner] !== null);
  const places = car.details?.ballastPlaces ?? [];
  const onBoard = Object.fromEntries(
    places.map(({ id }) => [id, typed[id] ?? read(`ballast.${id}`)?.value.value ?? null]),
  );
  const total = board.find(({ limited }) => limited.id === 'total')?.limited ?? null;
  return {
    plates,
    frontShare,
    leftShare,
    setFront,
    setLeft,
    onBoard,
    setOnBoard: (place, mass) => setTyped({ ...typed, [place]: mass }),
    question: ballastQuestion({
      car,
      loads: isWeighed ? perCorner((corner) => weights[corner]?.value.value ?? 0) : null,
      state: weights.LF?.state ?? state.carState,
      authority: chosen.authority,
      total,
      plates,
      wish: {
        frontShare,
        leftShare,
        onBoard: Object.fromEntries(Object.entries(onBoard).map(([id, mass]) => [id, mass ?? 0])),
      },
    }),
    shown,
  };
};
