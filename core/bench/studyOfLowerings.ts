import { warpPattern } from '../adjust/warp.ts';
import {
  loweringCells,
  loweringScatter,
  type LoweringScatter,
} from '../compare/repeatabilityLowering.ts';
import type { FourNumbers } from '../compare/repeatabilityLowering.ts';
import { repeatabilityStudy, type LoweringQuantity } from '../compare/repeatabilityStudy.ts';
import { repeatabilitySwap } from '../compare/repeatabilitySwap.ts';
import type { Capture, CrossDiagonal } from '../contract/records.ts';
import { STUDY_QUANTITIES, type StudyShown } from '../contract/studyShown.ts';
import { CORNERS, inOrder } from '../corners.ts';
import type { Car } from '../sheet/car.ts';
import { loweringsKept, newestStudy } from '../sheet/loweringsKept.ts';
import type { VarianceEstimate } from '../statistics/varianceCombination.ts';
import type { KeptBook } from './keptBook.ts';

const quantity = (
  of: (typeof STUDY_QUANTITIES)[number],
  cross: CrossDiagonal,
): LoweringQuantity => {
  const share =
    (at: readonly number[]): LoweringQuantity =>
    (weights) =>
      at.reduce((sum, index) => sum + (weights[index] as number), 0) /
      weights.reduce((sum, each) => sum + each, 0);
  switch (of) {
    case 'total':
      return (weights) => weights.reduce((sum, each) => sum + each, 0);
    case 'front':
      return share([0, 1]);
    case 'left':
      return share([0, 2]);
    case 'cross':
      return share(cross === 'RF+LR' ? [1, 2] : [0, 3]);
    default:
      return (weights) => weights[CORNERS.indexOf(of)] as number;
  }
};

const component = (estimate: VarianceEstimate | null) =>
  estimate && {
    sd: estimate.sd,
    lower: Math.max(0, estimate.lower),
    upper: Number.isFinite(estimate.upper) ? estimate.upper : null,
  };

/** A study as it stands: its lowerings, what they tell and what they cannot. */
export const studyOfLowerings = (
  studyId: string,
  about: {
    readonly book: KeptBook;
    readonly captureOf: (id: string) => Capture | null;
    readonly car: Car;
    readonly cross: CrossDiagonal;
  },
): StudyShown => {
  const lowered = loweringsKept(about.book.of('lowering', studyId), about.captureOf);
  const lowerings = lowered.map(({ lowering }) => lowering);
  const head = {
    studyId,
    lowerings: lowered.map(({ capture, lowering, laying }) => ({
      captureId: capture.id,
      number: capture.number,
      person: lowering.person,
      laying,
      pads: [...lowering.pads],
    })),
  };
  const outcome = repeatabilityStudy(
    lowerings,
    STUDY_QUANTITIES.map((of) => quantity(of, about.cross)),
  );
  if (!outcome.ok)
    return {
      ...head,
      quantities: [],
      biases: [],
      notTold: ['how well a lowering repeats: lower the unchanged car again'],
    };
  const n = inOrder(warpPattern(about.car)) as unknown as FourNumbers;
  const swap = repeatabilitySwap(lowerings, n);
  return {
    ...head,
    quantities: outcome.study.quantities.map((found, index) => ({
      of: STUDY_QUANTITIES[index] as (typeof STUDY_QUANTITIES)[number],
      repeatability: component(found.repeatability),
      person: component(found.person),
      laying: component(found.laying),
      intermediate: component(found.intermediate),
    })),
    biases: swap.ok ? swap.result.biases.map(({ pad, bias }) => ({ padSerial: pad, bias })) : [],
    notTold: [...outcome.study.notTold, ...(swap.ok ? swap.result.notEstimable : [])],
  };
};

/** Scatter of one lowering from the newest study that repeated any; null where none did. */
export const newestScatter = (
  book: KeptBook,
  captureOf: (id: string) => Capture | null,
): LoweringScatter | null =>
  loweringScatter(loweringCells(newestStudy(book.all('lowering'), captureOf)));
