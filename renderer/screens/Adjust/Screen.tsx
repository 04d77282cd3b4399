import { useMemo, type ReactElement } from 'react';
import { firstTargets } from '../../../core/adjust/firstTargets.ts';
import { READING } from '../../../core/answers/answer.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import type { KeptOf } from '../../../core/contract/kept.ts';
import type { Measured } from '../../../core/measured.ts';
import { itemValue } from '../../../core/sheet/itemValue.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { useKept } from '../../live/useKept.ts';
import { useRecords, type RecordsHere } from '../../live/useRecords.ts';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { PracticeStrip } from '../Balance/PracticeStrip.tsx';
import { Begin } from './Begin.tsx';
import { LiveFour } from './LiveFour.tsx';
import styles from './Screen.module.css';
import { useAdjustment } from './useAdjustment.ts';
import { Working } from './Working.tsx';

const QUESTION = 'What do we turn?';

/** What the newest record and sheet of this car say of targets and ride heights. */
const useFirst = (state: BenchState, here: RecordsHere) =>
  useMemo(() => {
    const { car, settings } = state;
    const record = here.records.findLast(({ carId, setAside }) => carId === car.id && !setAside);
    const sources = record ? here.sourcesOf(record) : null;
    const sheet =
      here.sheets.find(({ id }) => id === record?.sheetId) ??
      here.sheets.findLast(({ carId }) => carId === car.id) ??
      null;
    return firstTargets({
      car,
      sheet,
      diagonal: car.details?.cross ?? settings.cross,
      heights: (id): Measured | null => {
        const found = sources && itemValue(`height.${id}`, sources);
        return found?.is === 'measured' && !found.stale ? found.value : null;
      },
    });
  }, [state, here]);

const Adjusting = ({
  state,
  here,
  kept,
}: {
  readonly state: BenchState;
  readonly here: RecordsHere;
  readonly kept: readonly KeptOf<'adjustment'>[];
}): ReactElement => {
  const first = useFirst(state, here);
  const adjusting = useAdjustment(state, kept);
  const { adjustment, now } = adjusting;
  return adjustment && now ? (
    <Working
      key={adjustment.carId}
      question={QUESTION}
      state={state}
      adjusting={adjusting}
      adjustment={adjustment}
      now={now}
    />
  ) : (
    <Begin
      key={state.car.id}
      question={QUESTION}
      state={state}
      first={first}
      adjusting={adjusting}
    />
  );
};

const WithRecords = ({ state }: { readonly state: BenchState }): ReactElement => {
  const here = useRecords(state);
  const kept = useKept('adjustment');
  return (
    <>
      {here && kept ? (
        <Adjusting state={state} here={here} kept={kept} />
      ) : (
        <AnswerHead question={QUESTION} answer={READING} />
      )}
      <footer className={styles['foot']}>
        <LiveFour state={state} />
        {state.practice ? (
          <PracticeStrip practice={state.practice} labels={state.settings.cornerLabels} />
        ) : null}
      </footer>
    </>
  );
};

/** Adjust: what do we turn? */
export const AdjustScreen = ({ view }: { readonly view: BenchView }): ReactElement => (
  <div className={styles['screen']}>
    {view.state ? (
      <WithRecords state={view.state} />
    ) : (
      <AnswerHead question={QUESTION} answer={READING} />
    )}
  </div>
);
