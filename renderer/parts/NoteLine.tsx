import type { ReactElement } from 'react';
import type { CommandNote } from './useCommand.ts';
import styles from './NoteLine.module.css';

/** What became of a command, beside its button; read out when it changes. */
export const NoteLine = ({
  note,
  otherwise = '',
}: {
  readonly note: CommandNote | null;
  /** What stands there while there is nothing to report. */
  readonly otherwise?: string;
}): ReactElement => (
  <p className={styles['note']} data-kind={note?.kind ?? 'none'} role="status">
    {note?.kind === 'refused' ? (
      <svg width="15" height="14" viewBox="0 0 14 13" aria-hidden="true">
        <path d="M7 1 13.2 12H.8z" fill="none" stroke="currentColor" strokeWidth="1.6" />
        <path d="M7 4.6v3.6M7 9.4v1" stroke="currentColor" strokeWidth="1.6" />
      </svg>
    ) : null}
    {note?.text ?? otherwise}
  </p>
);
