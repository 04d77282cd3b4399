import { useState, type ReactElement } from 'react';
import { changeText, uncertaintyText, valueText } from '../../../core/format/valueShown.ts';
import { BACK_TO_RUNNING, RUNNING_ANSWERS } from '../../../core/sheet/backToRunning.ts';
import { itemValue, type ValueSources } from '../../../core/sheet/itemValue.ts';
import {
  notAnswered,
  releaseSheet,
  type RunningAnswers,
} from '../../../core/sheet/releaseSheet.ts';
import type { SetUpSheet } from '../../../core/sheet/setUpSheet.ts';
import { clockShown, wallClock } from '../../clockShown.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Field } from '../../parts/Field.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { PrintButtons } from './PrintButtons.tsx';
import { understandWho } from './understandWho.ts';
import type { Measure } from './useMeasure.ts';
import { wantedIn } from './wantedIn.ts';
import styles from './Screen.module.css';

/** Every item of the sheet as it was built. */
const AsBuilt = ({
  measure,
  sheet,
  sources,
}: {
  readonly measure: Measure;
  readonly sheet: SetUpSheet;
  readonly sources: ValueSources;
}): ReactElement => (
  <div className={styles['table']} tabIndex={0} role="region" aria-label="As built">
    <table>
      <thead>
        <tr>
          <th scope="col">item</th>
          <th scope="col">target</th>
          <th scope="col">as built</th>
          <th scope="col">off by</th>
          <th scope="col">how it stands</th>
        </tr>
      </thead>
      <tbody>
        {sheet.lines.map(({ item: id, target, tolerance }) => {
          const item = sources.items.get(id);
          if (!item) return null;
          const wanted = wantedIn(item, sheet, measure.state.settings);
          const value = itemValue(id, sources);
          const off =
            value.is === 'measured' && target !== null ? value.value.value - target : null;
          const isOutside = off !== null && tolerance !== null && Math.abs(off) > tolerance;
          return (
            <tr key={id}>
              <th scope="row">{item.label}</th>
              <td>
                {target === null ? '—' : valueText(wanted, target)}
                {tolerance === null ? null : <small> ±{valueText(wanted, tolerance)}</small>}
              </td>
              <td>
                {value.is === 'missing' ? (
                  '—'
                ) : (
                  <>
                    {valueText(wanted, value.value.value, value.value.u)}
                    <small> ±{uncertaintyText(wanted, value.value.u)}</small>
                  </>
                )}
              </td>
              <td>{off === null ? '' : changeText(wanted, off)}</td>
              <td>
                {value.is === 'missing' ? (
                  <Tag kind="stale">not measured</Tag>
                ) : value.stale ? (
                  <Tag kind="stale">stale</Tag>
                ) : isOutside ? (
                  <Tag kind="alarm">outside</Tag>
                ) : off === null || tolerance === null ? null : (
                  <Tag kind="note">within</Tag>
                )}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  </div>
);

/** The sheet is released with what was built and a list that was ticked. */
export const ReleasePart = ({
  measure,
  onWalk,
}: {
  readonly measure: Measure;
  readonly onWalk: () => void;
}): ReactElement => {
  const { record, sheet, sources } = measure;
  const [answers, setAnswers] = useState<RunningAnswers>({});
  const [refused, setRefused] = useState<string | null>(null);
  if (!record || !sources || !sheet)
    return (
      <section className={styles['part']} aria-label="Release">
        <h2>Nothing to release</h2>
        <p className={styles['help']}>
          A sheet is released with the values as they were built, from a record that was made to it,
          and a list to tick before the car rolls. Measure the car to a sheet first.
        </p>
        <div className={styles['buttons']}>
          <PushButton look="main" onPress={onWalk}>
            Begin a record
          </PushButton>
        </div>
      </section>
    );
  const release = (): void => {
    const outcome = releaseSheet(sheet, {
      sources,
      answers,
      at: wallClock(),
      who: measure.who,
    });
    setRefused(outcome.ok ? null : outcome.why);
    if (outcome.ok) measure.keepSheet(outcome.sheet);
  };
  const { released } = sheet;
  const open = notAnswered(answers);
  return (
    <>
      <section className={styles['part']} aria-label="Release">
        <h2>
          {sheet.name} no. {sheet.number}, {record.phase} {clockShown(record.begunAt)}
        </h2>
        {released ? (
          <>
            <p>
              <Tag kind="note">released</Tag> {clockShown(released.at)}
              {released.who === '' ? '' : ` by ${released.who}`}, {released.asBuilt.length} values
              as built. To change it, copy it to the next number.
            </p>
            <PrintButtons what={{ is: 'sheet', lineageId: sheet.lineageId, sheetId: sheet.id }} />
          </>
        ) : null}
        <AsBuilt measure={measure} sheet={sheet} sources={sources} />
      </section>
      {released ? null : (
        <section className={styles['part']} aria-label="Before the car rolls">
          <h2>Before the car rolls</h2>
          <ul className={styles['ticks']}>
            {BACK_TO_RUNNING.map((item) => (
              <li key={item}>
                <Choice
                  label={item}
                  options={RUNNING_ANSWERS.map((value) => ({ value, text: value }))}
                  value={answers[item] ?? null}
                  onChange={(answer) => {
                    setAnswers({ ...answers, [item]: answer });
                    setRefused(null);
                  }}
                />
              </li>
            ))}
          </ul>
          <div className={styles['fields']}>
            <Field
              label="Released by"
              text={measure.who}
              understand={understandWho}
              onCommit={measure.setWho}
            />
          </div>
          <footer className={styles['actions']}>
            <p role="status" className={refused === null ? styles['help'] : styles['refused']}>
              {refused ??
                (open.length === 0
                  ? 'All answered. A released sheet is not changed any more.'
                  : `${BACK_TO_RUNNING.length - open.length} of ${BACK_TO_RUNNING.length} answered.`)}
            </p>
            <PushButton look="main" onPress={release}>
              Release the sheet
            </PushButton>
          </footer>
        </section>
      )}
    </>
  );
};
