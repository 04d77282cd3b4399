import { useState, type ReactElement } from 'react';
import type { CalibrationRecord } from '../../../core/contract/calibrationRecord.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { kilogram, STANDARD_GRAVITY } from '../../../core/units.ts';
import { Choice } from '../../parts/Choice.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { nominalMass } from './MassChoice.tsx';
import styles from './Calibrate.module.css';

/** Loads a jack makes on the practice stack, as masses, kg. */
const STACK_LOADS = ['0', '50', '100', '150', '200'] as const;

/** The practice rig's hands at a calibration: masses put on, or two pads pressed. */
export const PracticeLoad = ({
  state,
  record,
  massIds,
  isEmpty,
}: {
  readonly state: BenchState;
  readonly record: CalibrationRecord;
  readonly massIds: readonly string[];
  readonly isEmpty: boolean;
}): ReactElement => {
  const { note, give } = useCommand();
  const [load, setLoad] = useState<(typeof STACK_LOADS)[number]>('0');
  const isUp = state.practice?.car === 'raised';
  const { masses, reference, padSerial } = record;
  const put = (): void => {
    if (masses)
      void give({
        do: 'put practice masses',
        padSerial,
        mass: nominalMass(masses, massIds),
        place: 'middle',
        distance: 0,
      });
    else if (reference)
      void give({
        do: 'press practice stack',
        stack: {
          upper: padSerial,
          lower: reference.padSerial,
          force: isEmpty ? 0 : kilogram(Number(load)) * STANDARD_GRAVITY,
        },
      });
  };
  return (
    <div className={styles['practice']}>
      <Tag kind="practice">practice hands</Tag>
      {isUp ? (
        <>
          {masses ? null : (
            <Choice
              label="Pressed by, kg"
              labelUnseen
              options={STACK_LOADS.map((value) => ({ value, text: value }))}
              value={load}
              onChange={setLoad}
            />
          )}
          <PushButton small onPress={put}>
            {masses ? 'Put them on' : 'Press'}
          </PushButton>
        </>
      ) : (
        <PushButton small onPress={() => void give({ do: 'raise practice car' })}>
          Raise the car first
        </PushButton>
      )}
      {note?.kind === 'refused' ? <NoteLine note={note} /> : null}
    </div>
  );
};
