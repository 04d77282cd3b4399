import { useEffect, useState, type ReactElement } from 'react';
import type { Answer } from '../../../core/answers/answer.ts';
import { railTones, TONE_WORDS, type RailTones } from '../../../core/answers/railTones.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { useClient } from '../../live/useLive.tsx';
import styles from './Rail.module.css';

/** Often enough for a glance. */
const EVERY_MS = 1000;

/** The tones of the answers, looked at once a second and with every change of the bench. */
export const useRailTones = ({ joined, state }: BenchView): RailTones => {
  const client = useClient();
  const [, look] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => look((count) => count + 1), EVERY_MS);
    return () => clearInterval(timer);
  }, []);
  return railTones({ joined, state, frame: client.live.get() });
};

/** A flat line, a swell, a triangle: as the water is everywhere. */
const SHAPES: Readonly<Record<Answer['tone'], string>> = {
  calm: 'M1 6.5h12',
  wait: 'M1 6.5c2-4 4-4 6 0s4 4 6 0',
  alarm: 'M7 1 13.2 12H.8z',
};

/** How the answer of a screen stands, small; in words for who hears it, beside the button's own name. */
export const RailMark = ({ tone }: { readonly tone: Answer['tone'] }): ReactElement => (
  <svg className={styles['tone']} data-tone={tone} viewBox="0 0 14 13" aria-hidden="true">
    <path d={SHAPES[tone]} />
  </svg>
);

export const RailWord = ({
  id,
  tone,
}: {
  readonly id: string;
  readonly tone: Answer['tone'];
}): ReactElement => (
  <span id={id} className="unseen">
    {TONE_WORDS[tone]}
  </span>
);
