import type { BenchState } from '../../../core/contract/events.ts';
import { cornerLabel } from '../../../core/corners.ts';

/** The pads that were heard, to choose one of: serial number with where it stands. */
export const padOptions = (
  state: BenchState,
): readonly { readonly value: string; readonly text: string }[] =>
  state.pads.flatMap(({ serial, corner }) =>
    serial === null
      ? []
      : [
          {
            value: serial,
            text: `${serial}, ${corner ? cornerLabel(corner, state.settings.cornerLabels) : 'spare'}`,
          },
        ],
  );
