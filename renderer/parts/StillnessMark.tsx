import type { ReactElement } from 'react';
import type { STILLNESS } from '../../core/contract/events.ts';
import { STILLNESS_SHAPES } from './stillnessShapes.ts';
import styles from './StillnessMark.module.css';

type Stillness = (typeof STILLNESS)[number];

/** How still a load is, as a shape and a word. */
export const StillnessMark = ({ is }: { readonly is: Stillness }): ReactElement => (
  <span className={styles['mark']} data-is={is}>
    <svg width="36" height="20" viewBox="0 0 36 20" aria-hidden="true">
      <path
        d={STILLNESS_SHAPES[is]}
        fill="none"
        stroke="currentColor"
        strokeWidth="2.5"
        strokeLinecap="round"
      />
    </svg>
    <span>{is}</span>
  </span>
);
