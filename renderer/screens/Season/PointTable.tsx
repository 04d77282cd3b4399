import type { ReactElement } from 'react';
import type { SeasonPoint, TheirReading } from '../../../core/contract/season.ts';
import { dayText } from '../../../core/format/day.ts';
import { valueText, type Wanted } from '../../../core/format/valueShown.ts';
import type { TraceEntry } from '../../../core/sheet/seasonTrace.ts';
import { clockShown } from '../../clockShown.ts';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import styles from './Screen.module.css';

interface Told {
  readonly wanted: Wanted;
  readonly openId: string | null;
  readonly onOpen: (recordId: string) => void;
}

const Ours = ({
  point,
  wanted,
  openId,
  onOpen,
}: Told & { readonly point: SeasonPoint }): ReactElement => {
  const { recordId, value, target } = point;
  return (
    <tr>
      <td>
        <PushButton
          small
          look="quiet"
          aria-pressed={recordId === openId}
          onPress={() => onOpen(recordId)}
        >
          {clockShown(point.at)}
        </PushButton>
      </td>
      <td>{point.venueName}</td>
      <td>{point.phase}</td>
      <td>
        {valueText(wanted, value.value, value.u)}{' '}
        <small>±{valueText(wanted, value.u, value.u)}</small>
      </td>
      <td>{target === null ? '—' : valueText(wanted, target)}</td>
      <td>
        {point.isRelease ? <Tag kind="note">released</Tag> : null}
        {point.isLowerBound ? <Tag kind="note">± is a lower bound</Tag> : null}
      </td>
    </tr>
  );
};

const Theirs = ({
  reading,
  wanted,
}: {
  readonly reading: TheirReading;
  readonly wanted: Wanted;
}): ReactElement => (
  <tr>
    <td>{reading.day === null ? 'no date' : dayText(reading.day)}</td>
    <td>{reading.event}</td>
    <td>{reading.authorityName}</td>
    <td>{valueText(wanted, reading.value)}</td>
    <td>—</td>
    <td>
      <Tag kind="note">their reading</Tag>
    </td>
  </tr>
);

/** The trace in figures, the newest first, what has no date at the end. */
export const PointTable = ({
  entries,
  undated,
  ...told
}: Told & {
  readonly entries: readonly TraceEntry[];
  readonly undated: readonly TheirReading[];
}): ReactElement => (
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
        {entries
          .toReversed()
          .map((entry) =>
            entry.is === 'ours' ? (
              <Ours key={entry.point.recordId} point={entry.point} {...told} />
            ) : (
              <Theirs key={entry.reading.pairId} reading={entry.reading} wanted={told.wanted} />
            ),
          )}
        {undated.map((reading) => (
          <Theirs key={reading.pairId} reading={reading} wanted={told.wanted} />
        ))}
      </tbody>
    </table>
  </div>
);
