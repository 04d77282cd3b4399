import { loweringCells, loweringScatter, type Lowering } from '../compare/repeatabilityLowering.ts';
import type { KeptOf } from '../contract/kept.ts';
import type { Capture } from '../contract/records.ts';
import { CORNERS } from '../corners.ts';

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
