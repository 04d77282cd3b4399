import { useEffect, useState, type ReactElement } from 'react';
import { TONE_WORDS } from '../../../core/answers/answer.ts';
import { liveStandings } from '../../../core/answers/liveStandings.ts';
import type { Standing } from '../../../core/contract/standings.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { useClient } from '../../live/useLive.tsx';
import { useStandings } from '../../live/useStandings.ts';
import type { Place } from './places.ts';
import styles from './Rail.module.css';

/** Often enough for a glance. */
const EVERY_MS = 1000;

/** How all answers stand, looked at once a second and with every change of the bench; null: not known. */
export const useRailStandings = ({
  joined,
  state,
}: BenchView): Readonly<Record<Place, Standing | null>> => {
  const client = useClient();
  const [, look] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => look((count) => count + 1), EVERY_MS);
    return () => clearInterval(timer);
  }, []);
  const kept = useStandings();
  return {
    patch: null,
    adjust: null,
    measure: null,
    compare: null,
    scrutineering: null,
    season: null,
    garage: null,
    ...kept,
    ...liveStandings({ joined, state, frame: client.live.get() }),
  };
};

/** A flat line, a swell, a triangle: as the water is everywhere. */
const SHAPES: Readonly<Record<Standing['tone'], string>> = {
  calm: 'M1 6.5h12',
  wait: 'M1 6.5c2-4 4-4 6 0s4 4 6 0',
  alarm: 'M7 1 13.2 12H.8z',
};

/** How the answer of a screen stands, by shape and word; its room is kept while that is not known. */
export const RailMark = ({ standing }: { readonly standing: Standing | null }): ReactElement => (
  <span className={styles['stands']} data-tone={standing?.tone} aria-hidden="true">
    {standing ? (
      <>
        <svg className={styles['tone']} viewBox="0 0 14 13">
          <path d={SHAPES[standing.tone]} />
        </svg>
        {TONE_WORDS[standing.tone]}
      </>
    ) : null}
  </span>
);

/** The same with the answer itself, beside the button's own name. */
export const RailWords = ({
  id,
  standing,
}: {
  readonly id: string;
  readonly standing: Standing;
}): ReactElement => (
  <span id={id} className="unseen">
    {TONE_WORDS[standing.tone]}. {standing.text}
  </span>
);
