import type { ReactElement } from 'react';
import type { LevelledPatch } from '../../../core/flatPatch/levelPatch.ts';
import type { SurveyRefusal } from '../../../core/flatPatch/levelSurvey.ts';
import { Tag } from '../../parts/Tag.tsx';
import styles from './Screen.module.css';

/** What was noticed in the survey, and what to do; nothing is deleted. */
export const Findings = ({
  patch,
  isOtherWay,
}: {
  readonly patch: LevelledPatch | SurveyRefusal;
  /** The pads went the other way than their screws since the survey before. */
  readonly isOtherWay: boolean;
}): ReactElement | null => {
  const refused = patch.ok ? null : patch;
  if (!refused && !isOtherWay && patch.findings.length === 0) return null;
  return (
    <ul className={styles['findings']} aria-label="Noticed in the survey">
      {refused ? (
        <li>
          <Tag kind="alarm">no heights yet</Tag> <strong>{refused.why}</strong> {refused.next}
        </li>
      ) : null}
      {isOtherWay ? (
        <li>
          <Tag kind="alarm">other way</Tag>{' '}
          <strong>The pads went the other way than their screws were to be turned.</strong> The
          staff was read upside down both times, or these screws turn the other way: read one pad
          again.
        </li>
      ) : null}
      {patch.findings.map(({ code, what, next }) => (
        <li key={`${code} ${what}`}>
          <strong>{what}</strong> {next}
        </li>
      ))}
    </ul>
  );
};
