import { useMemo, useState, type ReactElement } from 'react';
import type { Answer } from '../../../core/answers/answer.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import type { CarRecord } from '../../../core/sheet/carRecord.ts';
import { compareRecords, type RecordComparison } from '../../../core/sheet/compareRecords.ts';
import { clockShown } from '../../clockShown.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { useLoweringScatter } from '../../live/useLoweringScatter.ts';
import { useRecords, type RecordsHere } from '../../live/useRecords.ts';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { ChangePlan } from './ChangePlan.tsx';
import { ChangeTable } from './ChangeTable.tsx';
import { CauseList } from './CauseList.tsx';
import styles from './Screen.module.css';

const QUESTION = 'Has it changed?';

const WAITING: Answer = { about: 'reading', text: 'Reading the records.', tone: 'wait' };
const TOO_FEW: Answer = {
  about: 'too few',
  text: 'Two records of this car are needed: measure it before a run, and again after.',
  tone: 'wait',
};

const nameOf = ({ phase, begunAt }: CarRecord, venue: string): string =>
  `${phase}, ${clockShown(begunAt)}${venue === '' ? '' : `, ${venue}`}`;

const Compared = ({
  state,
  here,
}: {
  readonly state: BenchState;
  readonly here: RecordsHere;
}): ReactElement => {
  const scatter = useLoweringScatter(state.car);
  const [beforeId, setBefore] = useState<string | null>(null);
  const [afterId, setAfter] = useState<string | null>(null);
  const own = useMemo(
    () =>
      here.records
        .filter((record) => record.carId === state.car.id && !record.setAside)
        .toReversed(),
    [here.records, state.car.id],
  );
  const after = own.find(({ id }) => id === afterId) ?? own[0] ?? null;
  const before =
    own.find(({ id }) => id === beforeId) ?? own.find(({ id }) => id !== after?.id) ?? null;

  const found = useMemo((): RecordComparison | null => {
    if (!before || !after || before.id === after.id) return null;
    const [was, is] = [here.sourcesOf(before), here.sourcesOf(after)];
    if (!was || !is) return null;
    return compareRecords({
      car: state.car,
      before: was,
      after: is,
      sheet: here.sheets.find(({ id }) => id === (after.sheetId ?? before.sheetId)) ?? null,
      ...scatter,
      gravity: state.gravity,
      wording: { labels: state.settings.cornerLabels, massUnit: state.settings.massUnit },
    });
  }, [before, after, here, scatter, state.car, state.gravity, state.settings]);

  const venueOf = ({ venueId }: CarRecord): string =>
    state.venues.find(({ id }) => id === venueId)?.name ?? '';
  const options = own.map((record) => ({
    value: record.id,
    text: nameOf(record, venueOf(record)),
  }));
  const items = after ? (here.sourcesOf(after)?.items ?? null) : null;
  return (
    <>
      <AnswerHead question={QUESTION} answer={found?.answer ?? TOO_FEW} />
      <div className={styles['pick']}>
        <Pick
          label="Before"
          options={options}
          value={before?.id ?? null}
          placeholder="no record"
          onChange={setBefore}
        />
        <Pick
          label="After"
          options={options}
          value={after?.id ?? null}
          placeholder="no record"
          onChange={setAfter}
        />
        {scatter.repeat === null ? (
          <p className={styles['help']}>
            Corner weights are judged against how well a lowering repeats: make that study once,
            under Balance, Outing.
          </p>
        ) : null}
      </div>
      {found?.comparison && items ? (
        <div className={styles['body']}>
          <div className={styles['left']}>
            <ChangePlan car={state.car} comparison={found.comparison} items={items} />
            <CauseList found={found} settings={state.settings} />
          </div>
          <ChangeTable
            comparison={found.comparison}
            items={items}
            massUnit={state.settings.massUnit}
          />
          <ul className={styles['why']} aria-label="Why">
            {found.answer.why.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
            {found.states.doubts.map((doubt) => (
              <li key={doubt}>{doubt}.</li>
            ))}
          </ul>
        </div>
      ) : null}
    </>
  );
};

/** Compare: has it changed? */
export const CompareScreen = ({ view }: { readonly view: BenchView }): ReactElement => (
  <div className={styles['screen']}>
    {view.state ? (
      <WithRecords state={view.state} />
    ) : (
      <AnswerHead question={QUESTION} answer={WAITING} />
    )}
  </div>
);

const WithRecords = ({ state }: { readonly state: BenchState }): ReactElement => {
  const here = useRecords(state);
  return here ? (
    <Compared state={state} here={here} />
  ) : (
    <AnswerHead question={QUESTION} answer={WAITING} />
  );
};
