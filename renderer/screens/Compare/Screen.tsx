import { useMemo, useState, type ReactElement } from 'react';
import type { Answer } from '../../../core/answers/answer.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import type { CarRecord } from '../../../core/sheet/carRecord.ts';
import { compareRecords, type RecordComparison } from '../../../core/sheet/compareRecords.ts';
import { clockShown } from '../../clockShown.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { callsKept } from '../../../core/sheet/callsKept.ts';
import { compareWorked, decidingItem } from '../../../core/help/compareWorked.ts';
import { useKept } from '../../live/useKept.ts';
import { useLoweringScatter } from '../../live/useLoweringScatter.ts';
import { useRecords, type RecordsHere } from '../../live/useRecords.ts';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { HowWorkedOut } from '../../parts/HowWorkedOut.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { wantedOf } from '../Scrutineering/wantedOf.ts';
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
  const adjustments = useKept('adjustment');
  const surveys = useKept('patch survey');
  const massChecks = useKept('mass check');
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
      records: here.records,
      adjusted: callsKept(adjustments ?? [], state.car.id),
      checks: {
        surveys: surveys ?? [],
        massChecks: massChecks ?? [],
        zeroShiftLimit: state.settings.zeroShiftLimit,
      },
      wording: { labels: state.settings.cornerLabels, massUnit: state.settings.massUnit },
    });
  }, [
    before,
    after,
    here,
    scatter,
    adjustments,
    surveys,
    massChecks,
    state.car,
    state.gravity,
    state.settings,
  ]);

  const venueOf = ({ venueId }: CarRecord): string =>
    state.venues.find(({ id }) => id === venueId)?.name ?? '';
  const options = own.map((record) => ({
    value: record.id,
    text: nameOf(record, venueOf(record)),
  }));
  const items = after ? (here.sourcesOf(after)?.items ?? null) : null;
  const comparison = found?.comparison ?? null;
  const deciding = comparison ? decidingItem(comparison) : null;
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
            Corner weights are judged by common limits of lowering. Make this car’s own study once,
            under Balance, Outing, and smaller changes can be told.
          </p>
        ) : null}
      </div>
      {deciding && comparison ? (
        <HowWorkedOut
          worked={() =>
            compareWorked(comparison, {
              item: deciding,
              name: items?.get(deciding.id)?.label ?? deciding.id,
              wanted: wantedOf(items?.get(deciding.id) ?? null, state.settings.massUnit),
            })
          }
        />
      ) : null}
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
