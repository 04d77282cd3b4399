import { useEffect, useRef, type ReactElement } from 'react';
import type { PadSource } from '../../../core/bench/ports.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import type { Settings } from '../../../core/contract/settings.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { newId } from '../../newId.ts';
import { Field } from '../../parts/Field.tsx';
import { keepCommand } from '../../parts/keepCommand.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { understandName } from '../../parts/understandName.ts';
import { UnitAndLabels } from '../../parts/UnitAndLabels.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './StartHere.module.css';

const FRESH = { steps: [], isLeft: false, runsBefore: 0 };

/** First start, in the order of the job: how the crew says things, which car, and the pads. */
export const StartHere = ({ state }: { readonly state: BenchState }): ReactElement => {
  const { note, give } = useCommand();
  const { settings, car } = state;
  const isExample = car.id === EXAMPLE_CAR.id;
  const isLooking = state.source === 'bluetooth';
  // A second choice before the first was read back starts from the first.
  const sent = useRef<Partial<Settings>>({});
  useEffect(() => {
    sent.current = {};
  }, [settings.massUnit, settings.cornerLabels]);
  const change = (part: Partial<Settings>): void => {
    sent.current = { ...sent.current, ...part };
    void give({ do: 'change settings', settings: { ...settings, ...sent.current } });
  };
  const choose = (source: PadSource, doing: string): void =>
    void give({ do: 'choose pads', source }, { doing, done: null });
  const walk = async (): Promise<void> => {
    const chosen = await give(
      { do: 'choose pads', source: 'rig' },
      { doing: 'Setting up the practice rig.', done: null },
    );
    if (chosen) await give(keepCommand({ kind: 'practice walk', subject: newId(), walk: FRESH }));
  };
  return (
    <div className={styles['start']}>
      <svg className={styles['water']} viewBox="0 0 600 56" aria-hidden="true">
        <path d="M4 14q14 -18 28 0t28 0t28 0t28 0t28 0" />
        <path d="M172 14q32 -12 64 0t64 0t64 0" />
        <path d="M392 14h204" />
        <path d="M436 34h116M474 48h40" className={styles['reflection']} />
      </svg>
      <p className={styles['teach']}>
        Four pads weigh the four corners of the car, and this screen says where the weight lies.
      </p>
      <section className={styles['row']} aria-label="Units and corner names">
        <UnitAndLabels settings={settings} onChange={change} />
      </section>
      <section className={styles['row']} aria-label="Car">
        <div className={styles['car']}>
          <Field
            label="Car, this example or yours"
            text={car.name}
            understand={understandName}
            onCommit={(name) =>
              void give({
                do: 'use car',
                car: { ...car, id: isExample ? newId() : car.id, name },
              })
            }
          />
        </div>
        {isExample ? null : (
          <p className={styles['help']}>
            Its lengths and rates are still those of the example: correct them under Measure, Car.
          </p>
        )}
      </section>
      <section className={styles['ways']} aria-label="Pads or practice">
        <div className={styles['way']}>
          <PushButton look="main" onPress={() => choose('rig', 'Setting up the practice rig.')}>
            Practise on the rig
          </PushButton>
          <p>
            No pads at hand: {car.name} is simulated on four simulated ones. Nothing real moves.
          </p>
          <PushButton onPress={() => void walk()}>Walk me round the job</PushButton>
          <p>The same, with a guide: the whole job once in ten minutes.</p>
        </div>
        <div className={styles['way']}>
          <PushButton onPress={() => choose('bluetooth', 'Starting to look for pads.')}>
            {isLooking ? 'Look again' : 'Look for pads'}
          </PushButton>
          <p>
            {isLooking
              ? 'Bluetooth cannot be used as it is: above stands what to do. Practice needs none.'
              : 'Over Bluetooth. Switch the pads on first and keep them near.'}
          </p>
        </div>
      </section>
      <NoteLine note={note} />
    </div>
  );
};
