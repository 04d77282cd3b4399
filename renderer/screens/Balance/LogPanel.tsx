import { useState, type ReactElement } from 'react';
import { Button } from 'react-aria-components/Button';
import { Input } from 'react-aria-components/Input';
import { Label } from 'react-aria-components/Label';
import { TextField } from 'react-aria-components/TextField';
import { diagonalLabel } from '../../../core/answers/balanceAnswer.ts';
import { captureMarks } from '../../../core/answers/captureChange.ts';
import { markKind } from './markKind.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import type { Capture, RawWindow } from '../../../core/contract/records.ts';
import { massShown, shareShown } from '../../../core/format/quantity.ts';
import { clockShown } from '../../clockShown.ts';
import { cx } from '../../parts/cx.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { CaptureDetail } from './CaptureDetail.tsx';
import styles from './LogPanel.module.css';

const OPENING = { doing: 'Opening the capture.', done: null } as const;

const CaptureRow = ({
  capture,
  state,
  onOpen,
}: {
  readonly capture: Capture;
  readonly state: BenchState;
  readonly onOpen: () => void;
}): ReactElement => {
  const { massUnit } = state.settings;
  const { total, frontShare, leftShare, crossShare, cross } = capture.balance;
  const shownTotal = massShown(massUnit, total.value, total.u);
  const share = (value: number, u: number): string => shareShown(value, u).number;
  return (
    <li>
      <Button
        className={cx(styles['capture'], capture.setAside && styles['aside'])}
        onPress={onOpen}
      >
        <span className="unseen">Open capture {capture.number}:</span>
        <span className={styles['top']}>
          <strong>no. {capture.number}</strong>
          <span className={styles['total']}>
            {shownTotal.number}{' '}
            <small>
              ±{shownTotal.u} {massUnit}
            </small>
          </span>
        </span>
        <span className={styles['when']}>
          {capture.phase}, {clockShown(capture.takenAt)}
          {capture.note === '' ? '' : ` “${capture.note}”`}
        </span>
        <span className={styles['shares']}>
          <span>front {share(frontShare.value, frontShare.u)}</span>
          <span>left {share(leftShare.value, leftShare.u)}</span>
          <span>
            {diagonalLabel(cross, state.settings.cornerLabels)}{' '}
            {share(crossShare.value, crossShare.u)} %
          </span>
        </span>
        <span className={styles['marks']}>
          {captureMarks(capture, state.settings).map((mark) => (
            <Tag key={mark} kind={markKind(mark)}>
              {mark}
            </Tag>
          ))}
        </span>
      </Button>
    </li>
  );
};

/** The captures of this outing, newest first; one can be opened. */
export const LogPanel = ({
  state,
  note: captureNote,
  onNote,
}: {
  readonly state: BenchState;
  readonly note: string;
  readonly onNote: (note: string) => void;
}): ReactElement => {
  const [opened, setOpened] = useState<{
    readonly id: string;
    readonly window: RawWindow;
  } | null>(null);
  const { note, give } = useCommand();
  const capture = opened ? state.captures.find(({ id }) => id === opened.id) : undefined;

  if (opened && capture)
    return (
      <CaptureDetail
        capture={capture}
        window={opened.window}
        state={state}
        onClose={() => setOpened(null)}
      />
    );
  const open = async (id: string): Promise<void> => {
    const result = await give({ do: 'open capture', id }, OPENING);
    if (result?.is === 'capture opened') setOpened({ id, window: result.window });
  };
  return (
    <div className={styles['log']}>
      <TextField
        className={cx(styles['note'])}
        value={captureNote}
        onChange={onNote}
        maxLength={400}
      >
        <Label>Note for the next capture</Label>
        <Input className={cx(styles['input'])} />
      </TextField>
      <NoteLine note={note} />
      {state.captures.length === 0 ? (
        <p className={styles['empty']}>
          Nothing captured in {state.outing.name} yet. When all four corners are settled, Capture
          (or Space) stores them over the same window, with their raw counts.
        </p>
      ) : (
        <ol className={styles['list']}>
          {state.captures.map((each) => (
            <CaptureRow
              key={each.id}
              capture={each}
              state={state}
              onOpen={() => void open(each.id)}
            />
          ))}
        </ol>
      )}
    </div>
  );
};
