import type { ReactElement } from 'react';
import type { PadSource } from '../../../core/bench/ports.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { newId } from '../../newId.ts';
import { Field } from '../../parts/Field.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { SettingsFields } from '../Settings/SettingsFields.tsx';
import { understandName } from '../../parts/understandName.ts';
import styles from './StartHere.module.css';

/** First start: what this screen will answer, what it needs first, and the buttons that do that. */
export const StartHere = ({ state }: { readonly state: BenchState }): ReactElement => {
  const { note, give } = useCommand();
  const choose = (source: PadSource, doing: string): void =>
    void give({ do: 'choose pads', source }, { doing, done: null });
  return (
    <div className={styles['start']}>
      <svg className={styles['water']} viewBox="0 0 600 56" aria-hidden="true">
        <path d="M4 14q14 -18 28 0t28 0t28 0t28 0t28 0" />
        <path d="M172 14q32 -12 64 0t64 0t64 0" />
        <path d="M392 14h204" />
        <path d="M436 34h116M474 48h40" className={styles['reflection']} />
      </svg>
      <p className={styles['teach']}>
        Four pads weigh the four corners of the car. This screen says how much stands on each, how
        well that is known, and how the weight lies: front, left, cross, centre of gravity. It needs
        four pads, one at each corner, and their zero taken with the car raised.
      </p>
      <div className={styles['ways']}>
        <div className={styles['way']}>
          <PushButton look="main" onPress={() => choose('rig', 'Setting up the practice rig.')}>
            Practise on the rig
          </PushButton>
          <p>A simulated {state.car.name} is lowered on four simulated pads. Nothing real moves.</p>
        </div>
        <div className={styles['way']}>
          <PushButton onPress={() => choose('bluetooth', 'Starting to look for pads.')}>
            Look for pads
          </PushButton>
          <p>Searches over Bluetooth. Switch the pads on first and keep them near.</p>
        </div>
      </div>
      <NoteLine note={note} />
      <section className={styles['settings']} aria-label="First choices">
        <SettingsFields settings={state.settings} />
        <div className={styles['car']}>
          <Field
            label="Car: this example, or the name of yours"
            text={state.car.name}
            understand={understandName}
            onCommit={(name) =>
              void give({ do: 'use car', car: { ...state.car, id: newId(), name } })
            }
          />
        </div>
      </section>
    </div>
  );
};
