import type { ReactElement } from 'react';
import type { FieldQuestion } from '../../../core/alignment/fieldQuestion.ts';
import { PushButton } from '../../parts/PushButton.tsx';
import styles from './Screen.module.css';

/** A question beside the field; the reading is kept whatever is answered. */
export const AskedNote = ({
  question,
  difference,
  meant,
  hasOthers,
  onKeep,
  onReadAgain,
  onMeant,
}: {
  readonly question: FieldQuestion;
  /** In the unit of the field. */
  readonly difference: string;
  /** What it would be without the slip, in the unit of the field; null where none is likely. */
  readonly meant: string | null;
  readonly hasOthers: boolean;
  readonly onKeep: () => void;
  readonly onReadAgain: () => void;
  readonly onMeant: (value: number) => void;
}): ReactElement => (
  <aside className={styles['asked']} role="status">
    <svg width="18" height="18" viewBox="0 0 16 16" aria-hidden="true">
      <path
        d="M5 5.2C5 1.6 11 1.6 11 5.2 11 7.6 8 7.4 8 10M8 12.6v1"
        fill="none"
        stroke="currentColor"
        strokeWidth="2"
      />
    </svg>
    <p>
      <strong>
        Far from {question.farFrom}, {difference}.
      </strong>{' '}
      {question.words.replace(/^[^.]*\. /u, '')}
    </p>
    <div className={styles['buttons']}>
      {question.slip && meant !== null ? (
        <PushButton small onPress={() => onMeant(question.slip?.meant ?? Number.NaN)}>
          It is {meant}
        </PushButton>
      ) : null}
      <PushButton small onPress={onReadAgain}>
        Read again
      </PushButton>
      <PushButton small onPress={onKeep}>
        {hasOthers ? 'Keep both' : 'Keep it'}
      </PushButton>
    </div>
  </aside>
);
