import { useMemo, useState, type ReactElement } from 'react';
import { READING } from '../../../core/answers/answer.ts';
import {
  comparableRecords,
  comparedAnswer,
  compareTwo,
  compareWanted,
  pairOf,
} from '../../../core/answers/compareTwo.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import type { CarRecord } from '../../../core/sheet/carRecord.ts';
import { clockShown } from '../../clockShown.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { compareWorked, decidingItem } from '../../../core/help/compareWorked.ts';
import { useKept } from '../../live/useKept.ts';
import { useLoweringScatter } from '../../live/useLoweringScatter.ts';
import { useRecords, type RecordsHere } from '../../live/useRecords.ts';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { HowWorkedOut } from '../../parts/HowWorkedOut.tsx';
import { Pick } from '../../parts/Pick.tsx';
import type { RecordsToOpen } from '../Season/OpenPoint.tsx';
import { wantedOf } from '../../../core/format/wantedOf.ts';
import { ChangePlan } from './ChangePlan.tsx';
import { ChangeTable } from './ChangeTable.tsx';
import { CauseList } from './CauseList.tsx';
import styles from './Screen.module.css';

const QUESTION = 'Has it changed?';

/** Before the id of a sheet whose targets stand for a record. */
const TARGET = 'target ';

const nameOf = ({ phase, begunAt }: CarRecord, venue: string): string =>
  `${phase}, ${clockShown(begunAt)}${venue === '' ? '' : `, ${venue}`}`;

const Compared = ({
  state,
  here,
  opened,
}: {
  readonly state: BenchState;
  readonly here: RecordsHere;
  readonly opened: RecordsToOpen | null;
}): ReactElement => {
  const scatter = useLoweringScatter(state.car);
  const adjustments = useKept('adjustment');
  const surveys = useKept('patch survey');
  const massChecks = useKept('mass check');
  const [beforeId, setBefore] = useState(opened?.beforeId ?? null);
  const [afterId, setAfter] = useState(opened?.recordId ?? null);
  const own = useMemo(
    () => comparableRecords(here.records, state.car.id),
    [here.records, state.car.id],
  );
  const { before, after } = pairOf(own, { beforeId, afterId });

  const sheet = here.sheets.find(({ id }) => `${TARGET}${id}` === beforeId) ?? null;
  const found = useMemo(() => {
    const from = {
      car: state.car,
      gravity: state.gravity,
      settings: state.settings,
      records: here.records,
      sheets: here.sheets,
      sourcesOf: here.sourcesOf,
      scatter,
      adjustments: adjustments ?? [],
      surveys: surveys ?? [],
      massChecks: massChecks ?? [],
    };
    return sheet && after
      ? compareWanted(from, { sheet, after })
      : compareTwo(from, { before, after });
  }, [
    before,
    after,
    sheet,
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
  const released = new Set(here.sheets.map((each) => each.released?.recordId));
  const options = own.map((record) => ({
    value: record.id,
    text: `${nameOf(record, venueOf(record))}${released.has(record.id) ? ', released' : ''}`,
  }));
  const targets = here.sheets
    .filter(
      ({ carId, lines }) => carId === state.car.id && lines.some(({ target }) => target !== null),
    )
    .toReversed()
    .map(({ id, name, number }) => ({
      value: `${TARGET}${id}`,
      text: `target, ${name} no. ${number}`,
    }));
  const items = after ? (here.sourcesOf(after)?.items ?? null) : null;
  const comparison = found?.comparison ?? null;
  const deciding = comparison ? decidingItem(comparison) : null;
  return (
    <>
      <AnswerHead question={QUESTION} answer={comparedAnswer(found)} />
      <div className={styles['pick']}>
        <Pick
          label="Before"
          options={[...options, ...targets]}
          value={sheet ? `${TARGET}${sheet.id}` : (before?.id ?? null)}
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
            isAgainstTarget={sheet !== null}
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

/** Compare: has it changed? The newest two records of the car, or those that another screen opened. */
export const CompareScreen = ({
  view,
  opened,
}: {
  readonly view: BenchView;
  readonly opened: RecordsToOpen | null;
}): ReactElement => (
  <div className={styles['screen']}>
    {view.state ? (
      <WithRecords state={view.state} opened={opened} />
    ) : (
      <AnswerHead question={QUESTION} answer={READING} />
    )}
  </div>
);

const WithRecords = ({
  state,
  opened,
}: {
  readonly state: BenchState;
  readonly opened: RecordsToOpen | null;
}): ReactElement => {
  const here = useRecords(state);
  return here ? (
    <Compared state={state} here={here} opened={opened} />
  ) : (
    <AnswerHead question={QUESTION} answer={READING} />
  );
};
