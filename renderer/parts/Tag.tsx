import type { ReactElement, ReactNode } from 'react';
import { cx } from './cx.ts';
import styles from './Tag.module.css';

export interface TagProps {
  /** note: to be known. practice: not real. stale: old. alarm: wrong, with its triangle. */
  readonly kind: 'note' | 'practice' | 'stale' | 'alarm';
  readonly children: ReactNode;
}

/** A word beside a value, told apart by its frame as well as its colour. */
export const Tag = ({ kind, children }: TagProps): ReactElement => (
  <span className={cx(styles['tag'], styles[kind])}>
    {kind === 'alarm' ? (
      <svg width="14" height="13" viewBox="0 0 14 13" aria-hidden="true">
        <path d="M7 1 13.2 12H.8z" fill="none" stroke="currentColor" strokeWidth="1.6" />
        <path d="M7 4.6v3.6M7 9.4v1" stroke="currentColor" strokeWidth="1.6" />
      </svg>
    ) : null}
    {children}
  </span>
);
