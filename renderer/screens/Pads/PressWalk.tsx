import { useEffect, useRef, type ReactElement } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import { CORNER_NAMES, CORNERS, cornerLabel, type Corner } from '../../../core/corners.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './PressWalk.module.css';

/** The corner to ask for after this one, in order; null when all were asked for. */
const cornerAfter = (corner: Corner): Corner | null => CORNERS[CORNERS.indexOf(corner) + 1] ?? null;

/** Walks round the car: asks for each corner in turn, and the pad that is pressed gets it. */
export const PressWalk = ({ state }: { readonly state: BenchState }): ReactElement => {
  const { note, give } = useCommand();
  const asked = useRef<{ readonly corner: Corner; readonly had: string | null } | null>(null);
  const asking = state.askingForPress;
  const has = asking === null ? null : state.assigned[asking];

  const ask = (corner: Corner | null): void => {
    asked.current = corner === null ? null : { corner, had: state.assigned[corner] };
    void give({ do: 'ask for press', corner });
  };

  // The bench stops asking once a pad was pressed: go on to the next corner.
  useEffect(() => {
    const last = asked.current;
    if (!last || asking !== null || state.assigned[last.corner] === null) return;
    const next = cornerAfter(last.corner);
    asked.current = next === null ? null : { corner: next, had: state.assigned[next] };
    if (next !== null) void give({ do: 'ask for press', corner: next });
  }, [asking, has, state.assigned, give]);

  return (
    <footer className={styles['walk']}>
      <div>
        {asking === null ? (
          <p>
            Which pad is where? Walk round the car and press each one when its corner is asked for.
          </p>
        ) : (
          <p className={styles['asked']}>
            Press the pad at <strong>{cornerLabel(asking, state.settings.cornerLabels)}</strong>,{' '}
            {CORNER_NAMES[asking]}.
          </p>
        )}
        <NoteLine note={note} />
      </div>
      <div className={styles['buttons']}>
        {asking === null ? (
          <PushButton look="main" onPress={() => ask('LF')}>
            Press the pads in turn
          </PushButton>
        ) : (
          <>
            <PushButton onPress={() => ask(null)}>Stop</PushButton>
            <PushButton onPress={() => ask(cornerAfter(asking))}>Leave this corner</PushButton>
          </>
        )}
      </div>
    </footer>
  );
};
