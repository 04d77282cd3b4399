import { useMemo, useState, type ReactElement } from 'react';
import type { Answer } from '../../../core/answers/answer.ts';
import { seasonAnswer } from '../../../core/answers/seasonAnswer.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { PHASES, type Phase } from '../../../core/contract/records.ts';
import type { SeasonPoint } from '../../../core/contract/season.ts';
import { valueText, type Wanted } from '../../../core/format/valueShown.ts';
import { firstUnit, unitOf } from '../../../core/format/unitTable.ts';
import { itemsOf } from '../../../core/sheet/items.ts';
import { seasonWorked } from '../../../core/help/seasonWorked.ts';
import { clockShown } from '../../clockShown.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { useSeason } from '../../live/useSeason.ts';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { Choice } from '../../parts/Choice.tsx';
import { HowWorkedOut } from '../../parts/HowWorkedOut.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { useSize } from '../../parts/useSize.ts';
import { SeasonPlot } from '../../plot/SeasonPlot.tsx';
import styles from './Screen.module.css';

const QUESTION = 'Is it still the same car?';
const WAITING: Answer = { about: 'reading', text: 'Reading the records.', tone: 'wait' };
const ALL = 'all';
/** Half of the band that holds the value with 95 %, in standard uncertainties. */
const BAND = 2;

const Chart = ({
  points,
  wanted,
}: {
  readonly points: readonly SeasonPoint[];
  readonly wanted: Wanted;
}): ReactElement => {
  const [element, size] = useSize<HTMLDivElement>();
  const unit =
    (wanted.unit === null ? null : unitOf(wanted.kind, wanted.unit)) ?? firstUnit(wanted.kind);
  return (
    <div
      ref={element}
      className={styles['chart']}
      role="img"
      aria-label={`${points.length} values over the season with their bands`}
    >
      {size && points.length > 0 ? (
        <SeasonPlot
          points={points.map(({ value, target, phase, isRelease }) => ({
            value: value.value / unit.inSi,
            half: (BAND * value.u) / unit.inSi,
            target: target === null ? null : target / unit.inSi,
            isHollow: phase === 'set-down',
            isRelease,
          }))}
          label={(value) => valueText(wanted, value * unit.inSi)}
          width={size.width}
          height={size.height}
        />
      ) : null}
    </div>
  );
};

const Season = ({ state }: { readonly state: BenchState }): ReactElement => {
  const [item, setItem] = useState('crossShare');
  const [carId, setCar] = useState(state.car.id);
  const [venueId, setVenue] = useState(ALL);
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
  const chosen = items.find(({ id }) => id === shown) ?? items[0];
  const wanted: Wanted = {
    kind: chosen?.quantity ?? 'number',
    unit: chosen?.quantity === 'mass' ? state.settings.massUnit : null,
  };
  return (
    <>
      <AnswerHead
        question={QUESTION}
        answer={season ? seasonAnswer({ label: chosen?.label ?? shown, wanted, points }) : WAITING}
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
      <Chart points={points} wanted={wanted} />
      <HowWorkedOut worked={() => seasonWorked(wanted, points)} />
      <p className={styles['key']}>
        Filled: set-up and check. Hollow: set-down. Flag: the sheet was released. Broken line: the
        target. Bars hold the value with 95 %.
      </p>
      <div className={styles['table']}>
        <table>
          <thead>
            <tr>
              <th scope="col">when</th>
              <th scope="col">where</th>
              <th scope="col">phase</th>
              <th scope="col">value</th>
              <th scope="col">target</th>
              <th scope="col">to be known</th>
            </tr>
          </thead>
          <tbody>
            {points.toReversed().map((point) => (
              <tr key={point.recordId}>
                <td>{clockShown(point.at)}</td>
                <td>{point.venueName}</td>
                <td>{point.phase}</td>
                <td>
                  {valueText(wanted, point.value.value, point.value.u)}{' '}
                  <small>±{valueText(wanted, point.value.u, point.value.u)}</small>
                </td>
                <td>{point.target === null ? '—' : valueText(wanted, point.target)}</td>
                <td>
                  {point.isRelease ? <Tag kind="note">released</Tag> : null}
                  {point.isLowerBound ? <Tag kind="note">± is a lower bound</Tag> : null}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
};

/** Season: is it still the same car? */
export const SeasonScreen = ({ view }: { readonly view: BenchView }): ReactElement => (
  <div className={styles['screen']}>
    {view.state ? (
      <Season state={view.state} />
    ) : (
      <AnswerHead question={QUESTION} answer={WAITING} />
    )}
  </div>
);
