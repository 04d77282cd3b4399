import { useEffect, useRef, useState, type ReactElement } from 'react';
import type { Answer } from '../../core/answers/answer.ts';
import { cx } from './cx.ts';
import styles from './AnswerHead.module.css';

export interface AnswerHeadProps {
  readonly question: string;
  readonly answer: Answer;
}

/**
 * The screen's question and its answer. What is read out changes with the case, not with every
 * digit: a screen reader hears "settled" once, with the numbers of that moment.
 */
export const AnswerHead = ({ question, answer }: AnswerHeadProps): ReactElement => {
  const [spoken, setSpoken] = useState(answer.text);
  const about = useRef(answer.about);
  useEffect(() => {
    if (about.current === answer.about) return;
    about.current = answer.about;
    setSpoken(answer.text);
  }, [answer.about, answer.text]);
  return (
    <header className={styles['head']}>
      <h1 className={styles['question']}>{question}</h1>
      <p className={cx(styles['answer'], styles[answer.tone])} aria-hidden="true">
        {answer.tone === 'alarm' ? (
          <svg className={styles['sign']} viewBox="0 0 14 13" aria-hidden="true">
            <path d="M7 1 13.2 12H.8z" fill="none" stroke="currentColor" strokeWidth="1.5" />
            <path d="M7 4.6v3.6M7 9.4v1" stroke="currentColor" strokeWidth="1.5" />
          </svg>
        ) : null}
        {answer.text}
      </p>
      <p className="unseen" role="status">
        {spoken}
      </p>
    </header>
  );
};
