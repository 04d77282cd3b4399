import { useMemo, useState, type ReactElement } from 'react';
import { READING } from '../../../core/answers/answer.ts';
import { seasonAnswer } from '../../../core/answers/seasonAnswer.ts';
import { FIRST_SEASON_ITEM } from '../../../core/answers/seasonStanding.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { PHASES, type Phase } from '../../../core/contract/records.ts';
import { wantedOf } from '../../../core/format/wantedOf.ts';
import { itemsOf } from '../../../core/sheet/items.ts';
import { seasonTrace } from '../../../core/sheet/seasonTrace.ts';
import { seasonWorked } from '../../../core/help/seasonWorked.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { useSeason } from '../../live/useSeason.ts';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { Choice } from '../../parts/Choice.tsx';
import { HowWorkedOut } from '../../parts/HowWorkedOut.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { OpenPoint, type RecordsToOpen } from './OpenPoint.tsx';
import { PointTable } from './PointTable.tsx';
import { Trace } from './Trace.tsx';
import styles from './Screen.module.css';

const QUESTION = 'Is it still the same car?';
const ALL = 'all';
const Season = ({
  state,
  onOpenRecords,
}: {
  readonly state: BenchState;
  readonly onOpenRecords: (records: RecordsToOpen) => void;
}): ReactElement => {
  const [item, setItem] = useState(FIRST_SEASON_ITEM);
  const [carId, setCar] = useState(state.car.id);
  const [venueId, setVenue] = useState(ALL);
  const [openId, setOpen] = useState<string | null>(null);
  const [phase, setPhase] = useState<Phase | typeof ALL>(ALL);
  const car = state.cars.find(({ id }) => id === carId) ?? state.car;
  const items = useMemo(() => itemsOf(car, []), [car]);
  const season = useSeason(item, {
    carId,
    venueId: venueId === ALL ? null : venueId,
    phase: phase === ALL ? null : phase,
  });
  // What is shown is named after what was read: the choice may be a moment ahead.
  const shown = season?.item ?? item;
  const points = season?.points ?? [];
  const theirs = season?.theirs ?? [];
  const entries = seasonTrace(points, theirs, venueId === ALL && phase === ALL);
  const open = points.find(({ recordId }) => recordId === openId) ?? points.at(-1) ?? null;
  const chosen = items.find(({ id }) => id === shown) ?? items[0];
  const wanted = wantedOf(chosen ?? null, state.settings.massUnit);
  return (
    <>
      <AnswerHead
        question={QUESTION}
        answer={season ? seasonAnswer({ label: chosen?.label ?? shown, wanted, points }) : READING}
      />
      <div className={styles['filters']}>
        <Pick
          label="Item"
          options={items.map(({ id, label }) => ({ value: id, text: label }))}
          value={item}
          onChange={setItem}
        />
        <Pick
          label="Car"
          options={state.cars.map(({ id, name }) => ({ value: id, text: name }))}
          value={carId}
          onChange={setCar}
        />
        <Pick
          label="Venue"
          options={[
            { value: ALL, text: 'all' },
            ...state.venues.map(({ id, name }) => ({ value: id, text: name })),
          ]}
          value={venueId}
          onChange={setVenue}
        />
        <Choice<Phase | typeof ALL>
          label="Phase"
          options={[ALL, ...PHASES].map((value) => ({ value: value as Phase, text: value }))}
          value={phase}
          onChange={setPhase}
        />
      </div>
      <Trace entries={entries} wanted={wanted} openId={open?.recordId ?? null} onOpen={setOpen} />
      <p className={styles['key']}>
        Filled: set-up and check. Hollow: set-down. Flag: the sheet was released. Diamond: what
        scrutineers read. Broken line: the target. Bars hold the value with 95 %.
      </p>
      {open ? (
        <OpenPoint
          state={state}
          point={open}
          before={points[points.indexOf(open) - 1] ?? null}
          wanted={wanted}
          onOpenRecords={onOpenRecords}
        />
      ) : null}
      <HowWorkedOut worked={() => seasonWorked(wanted, points)} />
      <PointTable
        entries={entries}
        undated={theirs.filter(({ day }) => day === null)}
        wanted={wanted}
        openId={open?.recordId ?? null}
        onOpen={setOpen}
      />
    </>
  );
};

/** Season: is it still the same car? */
export const SeasonScreen = ({
  view,
  onOpenRecords,
}: {
  readonly view: BenchView;
  readonly onOpenRecords: (records: RecordsToOpen) => void;
}): ReactElement => (
  <div className={styles['screen']}>
    {view.state ? (
      <Season state={view.state} onOpenRecords={onOpenRecords} />
    ) : (
      <AnswerHead question={QUESTION} answer={READING} />
    )}
  </div>
);
