import type { ReactElement } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import type { Capture } from '../../../core/contract/records.ts';
import { levelPatch } from '../../../core/flatPatch/levelPatch.ts';
import { surveyOf } from '../../../core/flatPatch/surveyOf.ts';
import { fixed, signed } from '../../../core/format/number.ts';
import { clockShown } from '../../clockShown.ts';
import { useKept } from '../../live/useKept.ts';

/** On what patch a capture was taken, by the newest survey before it. */
export const PatchUnder = ({
  capture,
  state,
}: {
  readonly capture: Capture;
  readonly state: BenchState;
}): ReactElement | null => {
  const surveys = useKept('patch survey');
  if (!surveys) return null;
  const under = surveyOf(capture, surveys);
  if (!under) return <>Patch not surveyed.</>;
  const patch = levelPatch(state.car, under.survey.survey);
  return (
    <>
      Patch surveyed {clockShown(under.at)}
      {patch.ok
        ? `: twist ${signed(1000 * patch.twist.value, 2)} ±${fixed(1000 * patch.twist.u, 2)} mm.`
        : ', without heights.'}
    </>
  );
};
