import type { ReactElement } from 'react';
import { causeWords } from '../../../core/compare/causes/causeWords.ts';
import type { Settings } from '../../../core/contract/settings.ts';
import { fixed } from '../../../core/format/number.ts';
import type { RecordComparison } from '../../../core/sheet/compareRecords.ts';
import { Tag } from '../../parts/Tag.tsx';
import styles from './Screen.module.css';

/** Classes shown; more is no help beside a car. */
const SHOWN = 4;

/** What explains the whole pattern, in classes that these measurements can tell apart. */
export const CauseList = ({
  found,
  settings,
}: {
  readonly found: RecordComparison;
  readonly settings: Settings;
}): ReactElement | null => {
  const { causes } = found;
  if (!causes) return null;
  const wording = { labels: settings.cornerLabels, massUnit: settings.massUnit };
  return (
    <section className={styles['causes']} aria-label="What moved?">
      <h2>What moved?</h2>
      <p>
        <Tag kind="note">{causes.answer}</Tag>
      </p>
      {causes.answer === 'nothing moved' ? null : (
        <ol>
          {causes.classes.slice(0, SHOWN).map(({ members, share, isTied }) => (
            <li key={members.map(({ cause }) => JSON.stringify(cause.what)).join()}>
              <p>
                {isTied ? <Tag kind="note">fits</Tag> : <Tag kind="stale">fits less</Tag>}{' '}
                {fixed(100 * share, 0)} % explained
              </p>
              <ul>
                {members.map(({ cause, size }) => {
                  const words = causeWords(cause.what, size, wording);
                  return (
                    <li key={words.name}>
                      <strong>{words.name}</strong>
                      {words.size === '' ? '' : `, ${words.size} (±${words.u})`}: {words.confirm}.
                    </li>
                  );
                })}
              </ul>
            </li>
          ))}
        </ol>
      )}
    </section>
  );
};
