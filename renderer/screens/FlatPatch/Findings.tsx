import type { ReactElement } from 'react';
import type { LevelledPatch } from '../../../core/flatPatch/levelPatch.ts';
import type { SurveyRefusal } from '../../../core/flatPatch/levelSurvey.ts';
import { Tag } from '../../parts/Tag.tsx';
import styles from './Screen.module.css';

/** What was noticed in the survey, and what to do; nothing is deleted. */
export const Findings = ({
  patch,
}: {
  readonly patch: LevelledPatch | SurveyRefusal;
}): ReactElement | null => {
  const refused = patch.ok ? null : patch;
  if (!refused && patch.findings.length === 0) return null;
  return (
    <ul className={styles['findings']} aria-label="Noticed in the survey">
      {refused ? (
        <li>
          <Tag kind="alarm">no heights yet</Tag> <strong>{refused.why}</strong> {refused.next}
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
