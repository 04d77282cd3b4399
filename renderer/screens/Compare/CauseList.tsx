import type { ReactElement } from 'react';
import { causeCautions } from '../../../core/answers/causeCautions.ts';
import { causeWords } from '../../../core/compare/causes/causeWords.ts';
import type { Settings } from '../../../core/contract/settings.ts';
import { fixed } from '../../../core/format/number.ts';
import type { RecordComparison } from '../../../core/sheet/compareRecords.ts';
import { CautionText } from '../../parts/CautionText.tsx';
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
  const { causes, ruledOut } = found;
  if (!causes) return null;
  const shown = causes.classes.slice(0, SHOWN);
  const cautions = causeCautions(
    shown.flatMap(({ members }) => members.map(({ cause }) => cause.what)),
  );
  const wording = { labels: settings.cornerLabels, massUnit: settings.massUnit };
  return (
    <section className={styles['causes']} aria-label="What moved?">
      <h2>What moved?</h2>
      <p>
        <Tag kind="note">{causes.answer}</Tag>
      </p>
      {causes.answer === 'nothing moved' ? null : (
        <ol>
          {shown.map(({ members, share, isTied }) => (
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
      {causes.answer === 'nothing moved'
        ? null
        : cautions.map((step) => <CautionText key={step} step={step} />)}
      {ruledOut.length === 0 ? null : (
        <>
          <h3>Looked at since</h3>
          <ul>
            {ruledOut.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
};
