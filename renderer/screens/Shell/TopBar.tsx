import type { ReactElement, ReactNode } from 'react';
import type { PadSource } from '../../../core/bench/ports.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import styles from './TopBar.module.css';

const SOURCE_TEXT: Readonly<Record<PadSource, string>> = {
  rig: 'practice rig',
  bluetooth: 'pads over Bluetooth',
  recording: 'recording',
};

/** What is being measured and with what; and whether the bench is there at all. */
export const TopBar = ({
  view: { joined, state },
  showsPanel,
  onPanel,
  walk,
}: {
  readonly view: BenchView;
  readonly showsPanel: boolean;
  readonly onPanel: () => void;
  /** The way into the practice walk. */
  readonly walk: ReactNode;
}): ReactElement => (
  <header className={styles['bar']}>
    <p className={styles['what']}>
      {state ? (
        <>
          <strong>{state.car.name}</strong>
          <span>{state.outing.name}</span>
          <span>{state.venue.name}</span>
        </>
      ) : (
        <strong>Millpond</strong>
      )}
    </p>
    <div className={styles['with']}>
      {!joined ? <Tag kind="alarm">no link to the bench</Tag> : null}
      {walk}
      {state?.source ? (
        <Tag kind={state.practice ? 'practice' : 'note'}>{SOURCE_TEXT[state.source]}</Tag>
      ) : null}
      {showsPanel ? (
        <span className={styles['panel']}>
          <PushButton look="quiet" small onPress={onPanel}>
            Log{state && state.captures.length > 0 ? ` ${state.captures.length}` : ''}, state,
            outing
          </PushButton>
        </span>
      ) : null}
    </div>
  </header>
);
