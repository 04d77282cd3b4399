import type { ReactElement } from 'react';
import { CAUTIONS, type CautionStep } from '../../core/answers/caution.ts';
import styles from './CautionText.module.css';

/** The caution of a step. */
export const CautionText = ({ step }: { readonly step: CautionStep }): ReactElement => {
  const { title, text } = CAUTIONS[step];
  return (
    <aside className={styles['caution']} data-step={step} aria-label={`Caution: ${title}`}>
      <svg width="22" height="20" viewBox="0 0 14 13" aria-hidden="true">
        <path d="M7 1 13.2 12H.8z" fill="none" stroke="currentColor" strokeWidth="1.4" />
        <path d="M7 4.6v3.6M7 9.4v1" stroke="currentColor" strokeWidth="1.4" />
      </svg>
      <p>
        <strong>{title}.</strong> {text}
      </p>
    </aside>
  );
};
