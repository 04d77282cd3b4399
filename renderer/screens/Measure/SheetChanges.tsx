import type { ReactElement } from 'react';
import { contradictionsOf } from '../../../core/sheet/contradictions.ts';
import { sheetDiff } from '../../../core/sheet/sheetDiff.ts';
import type { SetUpSheet } from '../../../core/sheet/setUpSheet.ts';
import { clockShown } from '../../clockShown.ts';
import { Field } from '../../parts/Field.tsx';
import { Tag } from '../../parts/Tag.tsx';
import type { Measure } from './useMeasure.ts';
import { understandNote } from './understandWho.ts';
import styles from './Screen.module.css';

/** What disagrees on a sheet, and what it changes against the one it was copied from. */
export const SheetChanges = ({
  measure,
  sheet,
}: {
  readonly measure: Measure;
  readonly sheet: SetUpSheet;
}): ReactElement | null => {
  const { car, sheets } = measure;
  const contradictions = contradictionsOf(sheet, car);
  const from = sheets.find(({ id }) => id === sheet.copiedFrom) ?? null;
  const changes = from ? sheetDiff(from, sheet, car) : [];
  return (
    <div className={styles['about']}>
      {sheet.released ? (
        <p>
          <Tag kind="note">released</Tag> {clockShown(sheet.released.at)}
          {sheet.released.who === '' ? '' : ` by ${sheet.released.who}`}. It is not changed any
          more: copy it to the next number.
        </p>
      ) : null}
      {contradictions.length > 0 ? (
        <ul className={styles['findings']} aria-label="What disagrees">
          {contradictions.map(({ words, cannotBeMet }) => (
            <li key={words} data-weight={cannotBeMet ? 'refuses' : 'says'}>
              {words}
            </li>
          ))}
        </ul>
      ) : null}
      {from ? (
        <details className={styles['changes']} open={changes.length > 0 && changes.length <= 6}>
          <summary>
            {changes.length === 0
              ? `Nothing changed against no. ${from.number}`
              : `${changes.length} changed against no. ${from.number}`}
          </summary>
          <ul>
            {changes.map(({ words }) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
          {sheet.released ? (
            <p>{sheet.changed}</p>
          ) : (
            <Field
              label="Why, in your words"
              text={sheet.changed}
              understand={understandNote(400)}
              onCommit={(changed) => measure.keepSheet({ ...sheet, changed })}
            />
          )}
        </details>
      ) : null}
    </div>
  );
};
