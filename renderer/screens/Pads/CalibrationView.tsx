import type { ReactElement } from 'react';
import type { CalibrationRecord } from '../../../core/contract/calibrationRecord.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { clockShown } from '../../clockShown.ts';
import { Tag } from '../../parts/Tag.tsx';
import { CalibrationFindings } from './CalibrationFindings.tsx';
import { CalibrationNumbers } from './CalibrationNumbers.tsx';
import { CalibrationPoints } from './CalibrationPoints.tsx';
import { CertificateButtons } from './CertificateButtons.tsx';
import styles from './Calibrate.module.css';

/** A calibration as it is in the records. */
export const CalibrationView = ({
  record,
  isUsed,
  state,
}: {
  readonly record: CalibrationRecord;
  readonly isUsed: boolean;
  readonly state: BenchState;
}): ReactElement => {
  const unit = state.settings.massUnit;
  return (
    <article className={styles['part']} aria-label={`Calibration of ${record.padSerial}`}>
      <h2>
        {record.padSerial}, {clockShown(record.madeAt)}, {record.place.name}
      </h2>
      <p className={styles['tags']}>
        <Tag kind={isUsed ? 'note' : 'stale'}>{isUsed ? 'in use' : 'kept, not in use'}</Tag>
        {record.practice ? <Tag kind="practice">practice</Tag> : null}
        {record.inSpiteOf === null ? null : (
          <Tag kind="alarm">used in spite of findings: {record.inSpiteOf}</Tag>
        )}
      </p>
      <CalibrationPoints record={record} unit={unit} />
      <CalibrationNumbers record={record} unit={unit} />
      <CalibrationFindings findings={record.findings} />
      <CertificateButtons record={record} />
    </article>
  );
};
