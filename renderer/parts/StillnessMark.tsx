import type { ReactElement } from 'react';
import type { STILLNESS } from '../../core/contract/events.ts';
import styles from './StillnessMark.module.css';

type Stillness = (typeof STILLNESS)[number];

/** Ripples, a low swell, a level line: told apart without colour. */
const SHAPES: Readonly<Record<Stillness, string>> = {
  moving: 'M2 10q4 -13 8 0t8 0t8 0t8 0',
  calming: 'M2 10q8 -6 16 0t16 0',
  settled: 'M2 10h32',
};

/** How still a load is, as a shape and a word. */
export const StillnessMark = ({ is }: { readonly is: Stillness }): ReactElement => (
  <span className={styles['mark']} data-is={is}>
    <svg width="36" height="20" viewBox="0 0 36 20" aria-hidden="true">
      <path
        d={SHAPES[is]}
        fill="none"
        stroke="currentColor"
        strokeWidth="2.5"
        strokeLinecap="round"
      />
    </svg>
    <span>{is}</span>
  </span>
);
