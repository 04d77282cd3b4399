import { useState, type ReactElement } from 'react';
import type { Result } from '../../../core/contract/commands.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { CalibrateBegin } from './CalibrateBegin.tsx';
import { CalibrateWork } from './CalibrateWork.tsx';
import { CalibrationView } from './CalibrationView.tsx';
import styles from './Calibrate.module.css';

type Calibrated = Extract<Result, { readonly is: 'calibrated' }>;

/** Guided calibration of one pad: begun, at work, and what came of it. */
export const Calibrate = ({ state }: { readonly state: BenchState }): ReactElement => {
  const [done, setDone] = useState<Calibrated | null>(null);
  const { calibrating } = state;
  return (
    <section className={styles['calibrate']} aria-label="Calibration">
      {calibrating ? (
        <CalibrateWork state={state} record={calibrating} onDone={setDone} />
      ) : (
        <>
          {done ? (
            <CalibrationView record={done.record} isUsed={done.isUsed} state={state} />
          ) : null}
          <CalibrateBegin state={state} onBegin={() => setDone(null)} />
        </>
      )}
    </section>
  );
};
