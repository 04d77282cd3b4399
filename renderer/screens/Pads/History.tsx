import { useCallback, useEffect, useState, type ReactElement } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import type { PadHistory, SeriesShown } from '../../../core/contract/padHistory.ts';
import { fixed, HARD_SPACE, signed } from '../../../core/format/number.ts';
import { CHART_RULES } from '../../../core/season/chartRules.ts';
import { massIn, STANDARD_GRAVITY, type MassUnit } from '../../../core/units.ts';
import { clockShown } from '../../clockShown.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { useSize } from '../../parts/useSize.ts';
import { ControlChart } from '../../plot/ControlChart.tsx';
import { CalibrationView } from './CalibrationView.tsx';
import { padOptions } from './padOptions.ts';
import styles from './Calibrate.module.css';

const SERIES_WORDS = {
  zero: 'Zero',
  'span check': 'Span against a known mass',
  noise: 'Noise of a still reading',
} as const;

/** Decimals that tell two values apart over this reach. */
const decimalsOver = (reach: number): number =>
  reach > 0 ? Math.max(1, Math.min(6, 2 - Math.floor(Math.log10(reach)))) : 3;

/** How a value of a series is written, fine enough for the reach of all of them. */
const labelOf = (
  { kind, values, limits }: SeriesShown,
  unit: MassUnit,
): ((value: number) => string) => {
  const inUnit = (value: number): number =>
    kind === 'span check'
      ? 100 * value
      : massIn(unit, (kind === 'noise' ? Math.exp(value) : value) / STANDARD_GRAVITY);
  const all = [
    ...values.map(({ value }) => value),
    ...(limits ? [limits.lower, limits.upper] : []),
  ].map(inUnit);
  const decimals = decimalsOver(Math.max(...all) - Math.min(...all));
  return kind === 'span check'
    ? (value) => `${signed(inUnit(value), decimals)} %`
    : (value) => `${fixed(inUnit(value), decimals)} ${unit}`;
};

const judged = ({
  inControl,
  withoutLimits,
  isProvisional,
  signals,
  steps,
}: SeriesShown): string => {
  if (withoutLimits !== null) return `No limits yet: ${withoutLimits}.`;
  const rules = [...new Set(signals.map(({ rule }) => CHART_RULES[rule].meaning))];
  const said = [
    ...rules.map((meaning) => `${meaning}`),
    ...(steps.length > 0 ? ['a step larger than chance allows'] : []),
  ];
  const head = inControl ? 'In control.' : `Out of control: ${said.join('; ')}.`;
  return isProvisional ? `${head} Limits from few values: provisional.` : head;
};

const Series = ({
  series,
  unit,
}: {
  readonly series: SeriesShown;
  readonly unit: MassUnit;
}): ReactElement => {
  const [element, size] = useSize<HTMLDivElement>();
  const out = new Set([...series.signals.map(({ to }) => to), ...series.steps]);
  return (
    <figure className={styles['figure']}>
      <figcaption>
        <strong>{SERIES_WORDS[series.kind]}</strong>. {judged(series)}
      </figcaption>
      <div
        ref={element}
        className={styles['chart']}
        role="img"
        aria-label={`${SERIES_WORDS[series.kind]}, ${series.values.length} values`}
      >
        {size && series.values.length > 1 ? (
          <ControlChart
            points={series.values.map(({ value, average }, index) => ({
              value,
              average,
              isOut: out.has(index),
            }))}
            limits={series.limits}
            label={labelOf(series, unit)}
            width={size.width}
            height={size.height}
          />
        ) : null}
      </div>
    </figure>
  );
};

const Calibrations = ({
  history,
  state,
  onChanged,
}: {
  readonly history: PadHistory;
  readonly state: BenchState;
  readonly onChanged: () => void;
}): ReactElement => {
  const { note, give } = useCommand();
  const [openId, setOpen] = useState<string | null>(null);
  const use = async (calibrationId: string | null): Promise<void> => {
    const { padSerial } = history;
    const given = await give(
      { do: 'use calibration', padSerial, calibrationId, reason: null },
      { doing: 'Changing.', done: () => 'Used from now on; older captures keep theirs.' },
    );
    if (given) onChanged();
  };
  return (
    <section className={styles['part']} aria-label="Calibrations">
      <h2>Calibrations</h2>
      {history.calibrations.length === 0 ? (
        <p className={styles['help']}>None yet: the span is only the maker’s rating.</p>
      ) : null}
      <ul className={styles['list']}>
        {history.calibrations.map((record) => (
          <li key={record.id} className={styles['row']}>
            <span>
              {clockShown(record.madeAt)}, {record.place.name}, {record.kind},{' '}
              {record.results.length} points{' '}
              {record.id === history.inUse ? <Tag kind="note">in use</Tag> : null}
              {record.inSpiteOf === null ? null : <Tag kind="alarm">in spite of findings</Tag>}
            </span>
            <span className={styles['buttons']}>
              <PushButton small onPress={() => setOpen(openId === record.id ? null : record.id)}>
                {openId === record.id ? 'Close' : 'Open'}
              </PushButton>
              {record.id === history.inUse ? null : (
                <PushButton small onPress={() => void use(record.id)}>
                  Use
                </PushButton>
              )}
            </span>
          </li>
        ))}
      </ul>
      {history.calibrations
        .filter(({ id }) => id === openId)
        .map((record) => (
          <CalibrationView
            key={record.id}
            record={record}
            isUsed={record.id === history.inUse}
            state={state}
          />
        ))}
      <footer className={styles['actions']}>
        <NoteLine note={note} />
        {history.inUse === null ? null : (
          <PushButton small onPress={() => void use(null)}>
            Back to the maker’s rating
          </PushButton>
        )}
      </footer>
    </section>
  );
};

/** One pad over the seasons: its calibrations, checks and charts. */
export const History = ({ state }: { readonly state: BenchState }): ReactElement => {
  const { note, give } = useCommand();
  const [chosen, setPad] = useState<string | null>(null);
  const [history, setHistory] = useState<PadHistory | null>(null);
  const pads = padOptions(state);
  const pad = chosen ?? pads[0]?.value ?? null;
  const unit = state.settings.massUnit;

  const open = useCallback(async (): Promise<void> => {
    if (pad === null) return;
    const result = await give({ do: 'open pad', padSerial: pad });
    if (result?.is === 'pad opened') setHistory(result.history);
  }, [pad, give]);
  useEffect(() => {
    setHistory(null);
    void open();
  }, [open]);

  return (
    <section className={styles['calibrate']} aria-label="History of a pad">
      <div className={styles['fields']}>
        <Pick label="Pad" options={pads} value={pad} placeholder="no pad heard" onChange={setPad} />
        <NoteLine note={note} />
      </div>
      {history ? (
        <>
          <ul className={styles['sentences']}>
            {history.findings.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
          <div className={styles['charts']}>
            {history.series.map((series) => (
              <Series key={`${series.kind} ${series.of}`} series={series} unit={unit} />
            ))}
          </div>
          <section className={styles['part']} aria-label="Checks with a known mass">
            <h2>Checks with a known mass</h2>
            {history.checks.length === 0 ? (
              <p className={styles['help']}>None yet.</p>
            ) : (
              <div className={styles['table']}>
                <table>
                  <thead>
                    <tr>
                      <th scope="col">when</th>
                      <th scope="col">mass {unit}</th>
                      <th scope="col">read less applied</th>
                      <th scope="col">of it</th>
                      <th scope="col">where, verdict</th>
                    </tr>
                  </thead>
                  <tbody>
                    {history.checks.toReversed().map((check) => (
                      <tr key={check.at}>
                        <td>{clockShown(check.at)}</td>
                        <td>{fixed(massIn(unit, check.mass), 2)}</td>
                        <td>{signed(massIn(unit, check.difference), 3)}</td>
                        <td>
                          {signed(100 * check.relative, 3)} ±{fixed(100 * check.u, 3)}
                          {HARD_SPACE}%
                        </td>
                        <td>
                          {check.placeName}, {check.state}
                        </td>
                      </tr>
                    ))}
                  </tbody>
                </table>
              </div>
            )}
          </section>
          <Calibrations history={history} state={state} onChanged={() => void open()} />
        </>
      ) : null}
    </section>
  );
};
