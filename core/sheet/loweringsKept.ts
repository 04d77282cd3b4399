import { warpPattern } from '../adjust/warp.ts';
import { layingScatter } from '../compare/layingScatter.ts';
import {
  loweringCells,
  loweringScatter,
  type FourNumbers,
  type Lowering,
  type LoweringScatter,
} from '../compare/repeatabilityLowering.ts';
import type { KeptOf } from '../contract/kept.ts';
import type { Capture } from '../contract/records.ts';
import { CORNERS, inOrder } from '../corners.ts';
import type { Car } from './car.ts';

/** One lowering of a study, with the capture it is. */
export interface LoweringKept {
  readonly capture: Capture;
  readonly lowering: Lowering;
  readonly laying: number;
}

/** The lowerings of a study whose captures are there and not set aside. */
export const loweringsKept = (
  kept: readonly KeptOf<'lowering'>[],
  captureOf: (id: string) => Capture | null,
): readonly LoweringKept[] =>
  kept.flatMap(({ captureId, person, laying }) => {
    const capture = captureOf(captureId);
    if (!capture || capture.setAside) return [];
    const [a, b, c, d] = CORNERS.map((corner) => capture.corners[corner]);
    if (!a || !b || !c || !d) return [];
    return [
      {
        capture,
        laying,
        lowering: {
          pads: [a.padSerial, b.padSerial, c.padSerial, d.padSerial],
          weights: [a.mass.value, b.mass.value, c.mass.value, d.mass.value],
          person,
          laying: String(laying),
        },
      },
    ];
  });

/** The lowerings of the newest study that repeated any; none where no study did. */
export const newestStudy = (
  kept: readonly KeptOf<'lowering'>[],
  captureOf: (id: string) => Capture | null,
): readonly Lowering[] => {
  const studies = [...Map.groupBy(kept, ({ subject }) => subject).values()].toReversed();
  for (const study of studies) {
    const lowerings = loweringsKept(study, captureOf).map(({ lowering }) => lowering);
    if (loweringScatter(loweringCells(lowerings))) return lowerings;
  }
  return [];
};

/** What a study says of lowering the unchanged car, and of laying the patch again; null where it does not. */
export interface StudiedScatter {
  readonly repeat: LoweringScatter | null;
  readonly laying: LoweringScatter | null;
}

/** The scatter of the newest study that repeated any lowering, for a car. */
export const studiedScatter = (
  car: Car,
  kept: readonly KeptOf<'lowering'>[],
  captureOf: (id: string) => Capture | null,
): StudiedScatter => {
  const study = newestStudy(kept, captureOf);
  const n = inOrder(warpPattern(car)) as unknown as FourNumbers;
  return { repeat: loweringScatter(loweringCells(study)), laying: layingScatter(study, n) };
};
