import type { ReactElement } from 'react';
import { caution } from '../../../core/answers/caution.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { useFrame } from '../../live/useLive.tsx';
import { CautionText } from '../../parts/CautionText.tsx';

/** The caution of the step the car is in. */
export const CautionNote = ({ state }: { readonly state: BenchState }): ReactElement => {
  const step = useFrame((frame) => caution(state, frame)?.step ?? null);
  return step === null ? <div /> : <CautionText step={step} />;
};
