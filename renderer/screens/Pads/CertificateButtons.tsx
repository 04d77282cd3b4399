import type { ReactElement } from 'react';
import type { CalibrationRecord } from '../../../core/contract/calibrationRecord.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { usePrint } from '../../parts/usePrint.ts';
import styles from './Calibrate.module.css';

/** The certificate of a calibration, on paper or as numbers. */
export const CertificateButtons = ({
  record,
}: {
  readonly record: CalibrationRecord;
}): ReactElement => {
  const { note, print } = usePrint();
  const { padSerial, id } = record;
  const what = (table: 'points' | 'facts') =>
    ({ is: 'certificate', padSerial, calibrationId: id, table }) as const;
  return (
    <div className={styles['row']}>
      <PushButton small onPress={() => void print({ what: what('points'), form: 'pdf' })}>
        Certificate, PDF
      </PushButton>
      <PushButton small onPress={() => void print({ what: what('points'), form: 'csv' })}>
        Points, CSV
      </PushButton>
      <PushButton small onPress={() => void print({ what: what('facts'), form: 'csv' })}>
        All else, CSV
      </PushButton>
      <NoteLine note={note} />
    </div>
  );
};
