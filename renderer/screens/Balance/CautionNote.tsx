import type { ReactElement } from 'react';
import { caution } from '../../../core/answers/caution.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { sameFields, useFrame } from '../../live/useLive.tsx';
import styles from './CautionNote.module.css';

/** The caution of the step the car is in. */
export const CautionNote = ({ state }: { readonly state: BenchState }): ReactElement | null => {
  const shown = useFrame((frame) => caution(state, frame), sameFields);
  if (!shown) return <div />;
  return (
    <aside className={styles['caution']} data-step={shown.step}>
      <svg width="22" height="20" viewBox="0 0 14 13" aria-hidden="true">
        <path d="M7 1 13.2 12H.8z" fill="none" stroke="currentColor" strokeWidth="1.4" />
        <path d="M7 4.6v3.6M7 9.4v1" stroke="currentColor" strokeWidth="1.4" />
      </svg>
      <p>
        <strong>{shown.title}.</strong> {shown.text}
      </p>
    </aside>
  );
};
