import { useState, type ReactElement } from 'react';
import { captureBefore, captureChange, captureMarks } from '../../../core/answers/captureChange.ts';
import { diagonalLabel } from '../../../core/answers/balanceAnswer.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import type { Capture, RawWindow } from '../../../core/contract/records.ts';
import { cornerLabel, CORNERS } from '../../../core/corners.ts';
import { fixed } from '../../../core/format/number.ts';
import {
  massChangeShown,
  massShown,
  shareChangeShown,
  shareShown,
  type Shown,
} from '../../../core/format/quantity.ts';
import { clockShown } from '../../clockShown.ts';
import { Choice } from '../../parts/Choice.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { useSize } from '../../parts/useSize.ts';
import { RawWindowPlot } from '../../plot/RawWindowPlot.tsx';
import { BudgetPanel } from './BudgetPanel.tsx';
import { markKind } from './markKind.ts';
import { PatchUnder } from './PatchUnder.tsx';
import { RecomputePanel } from './RecomputePanel.tsx';
import styles from './CaptureDetail.module.css';

interface Row {
  readonly name: string;
  readonly value: Shown;
  readonly change: Shown | null;
}

const rowsOf = (capture: Capture, state: BenchState): readonly Row[] => {
  const { massUnit, cornerLabels } = state.settings;
  const before = captureBefore(capture, state.captures);
  const change = before ? captureChange(capture, before) : null;
  const { total, frontShare, leftShare, crossShare, cross } = capture.balance;
  const share = (
    name: string,
    of: typeof frontShare,
    by: typeof frontShare | null | undefined,
  ): Row => ({
    name,
    value: shareShown(of.value, of.u),
    change: by ? shareChangeShown(by.value, by.u) : null,
  });
  return [
    ...CORNERS.map((corner): Row => {
      const { mass } = capture.corners[corner];
      const by = change?.corners[corner];
      return {
        name: cornerLabel(corner, cornerLabels),
        value: massShown(massUnit, mass.value, mass.u),
        change: by ? massChangeShown(massUnit, by.value, by.u) : null,
      };
    }),
    {
      name: 'Total',
      value: massShown(massUnit, total.value, total.u),
      change: change ? massChangeShown(massUnit, change.total.value, change.total.u) : null,
    },
    share('Front', frontShare, change?.frontShare),
    share('Left', leftShare, change?.leftShare),
    share(`Cross ${diagonalLabel(cross, cornerLabels)}`, crossShare, change?.crossShare),
  ];
};

const RawWindows = ({
  window,
  labels,
}: {
  readonly window: RawWindow;
  readonly labels: BenchState['settings']['cornerLabels'];
}): ReactElement => {
  const [element, size] = useSize<HTMLDivElement>();
  const width = size ? Math.floor((size.width - 8) / 2) : 0;
  return (
    <figure className={styles['raw']}>
      <figcaption>Raw window: counts about their mean</figcaption>
      <div className={styles['plots']} ref={element}>
        {width > 0
          ? CORNERS.map((corner) => (
              <div
                key={corner}
                role="img"
                aria-label={`Raw counts of ${cornerLabel(corner, labels)}`}
              >
                <span>{cornerLabel(corner, labels)}</span>
                <RawWindowPlot {...window[corner]} width={width} height={110} />
              </div>
            ))
          : null}
      </div>
    </figure>
  );
};

const MORE = ['window', 'budget', 'recompute'] as const;
type More = (typeof MORE)[number];
const MORE_TEXT: Readonly<Record<More, string>> = {
  window: 'Raw window',
  budget: 'Uncertainty',
  recompute: 'Recompute with',
};

/** One capture opened: its numbers, their change, what must be known with them, its raw window. */
export const CaptureDetail = ({
  capture,
  window,
  state,
  onClose,
}: {
  readonly capture: Capture;
  readonly window: RawWindow;
  readonly state: BenchState;
  readonly onClose: () => void;
}): ReactElement => {
  const { note, give } = useCommand();
  const [more, setMore] = useState<More>('window');
  const { massUnit, cornerLabels } = state.settings;
  const before = captureBefore(capture, state.captures);
  const shift = capture.zeroShift;
  return (
    <article
      className={styles['detail']}
      onKeyDown={(event) => {
        if (event.key !== 'Escape') return;
        event.preventDefault();
        onClose();
      }}
    >
      <div className={styles['top']}>
        <PushButton small onPress={onClose} autoFocus>
          ‹ Log
        </PushButton>
        <h2>
          no. {capture.number}, {capture.phase}
        </h2>
        <PushButton
          small
          onPress={() => void give({ do: 'set aside', id: capture.id, aside: !capture.setAside })}
        >
          {capture.setAside ? 'Take back' : 'Set aside'}
        </PushButton>
      </div>
      <NoteLine note={note} />
      <p className={styles['where']}>
        {clockShown(capture.takenAt)}, {capture.carName} at {capture.venueName}, g{' '}
        {fixed(capture.gravity, 5)} m/s², window {fixed(capture.windowSeconds, 1)} s.
        {capture.note === '' ? '' : ` “${capture.note}”`}{' '}
        <PatchUnder capture={capture} state={state} />
      </p>
      <p className={styles['marks']}>
        {captureMarks(capture, state.settings).map((mark) => (
          <Tag key={mark} kind={markKind(mark)}>
            {mark}
          </Tag>
        ))}
      </p>
      <table className={styles['numbers']}>
        <thead>
          <tr>
            <th scope="col">
              <span className="unseen">What</span>
            </th>
            <th scope="col">{massUnit} or %</th>
            <th scope="col">±</th>
            <th scope="col">{before ? `since no. ${before.number}` : 'change'}</th>
          </tr>
        </thead>
        <tbody>
          {rowsOf(capture, state).map(({ name, value, change }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{value.number}</td>
              <td>{value.u}</td>
              <td>{change ? `${change.number} ±${change.u ?? ''}` : '—'}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {capture.carStateNotes.length > 0 ? (
        <ul className={styles['notes']}>
          {capture.carStateNotes.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      ) : null}
      {shift ? (
        <p className={styles['where']}>
          Zero shift after raising:{' '}
          {CORNERS.map((corner) => {
            const mass = shift[corner];
            const text =
              mass === null
                ? 'not read'
                : `${massChangeShown(massUnit, mass, 0.05).number} ${massUnit}`;
            return `${cornerLabel(corner, cornerLabels)} ${text}`;
          }).join(', ')}
          .
        </p>
      ) : null}
      <Choice
        label="More of this capture"
        labelUnseen
        options={MORE.map((value) => ({ value, text: MORE_TEXT[value] }))}
        value={more}
        onChange={setMore}
      />
      {more === 'window' ? <RawWindows window={window} labels={cornerLabels} /> : null}
      {more === 'budget' ? <BudgetPanel captureId={capture.id} settings={state.settings} /> : null}
      {more === 'recompute' ? <RecomputePanel capture={capture} settings={state.settings} /> : null}
    </article>
  );
};
