import type { ReactElement } from 'react';
import type { Finding } from '../../../core/contract/calibrationRecord.ts';
import { Tag } from '../../parts/Tag.tsx';
import styles from './Calibrate.module.css';

const WEIGHT_WORDS = { refuses: 'not for use', warns: 'marked', notes: 'to be known' } as const;
const ORDER = ['refuses', 'warns', 'notes'] as const;

/** What was found against a calibration: what, why, and what to do. */
export const CalibrationFindings = ({
  findings,
}: {
  readonly findings: readonly Finding[];
}): ReactElement | null =>
  findings.length === 0 ? null : (
    <ul className={styles['findings']} aria-label="Found">
      {ORDER.flatMap((weight) =>
        findings
          .filter((finding) => finding.weight === weight)
          .map((finding) => (
            <li key={`${finding.code} ${finding.what}`} data-weight={weight}>
              <p>
                <Tag kind={weight === 'refuses' ? 'alarm' : 'note'}>{WEIGHT_WORDS[weight]}</Tag>{' '}
                <strong>{finding.what}</strong>
              </p>
              <p>
                {finding.why} {finding.next}
              </p>
            </li>
          )),
      )}
    </ul>
  );
