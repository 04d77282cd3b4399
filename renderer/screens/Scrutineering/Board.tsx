import type { ReactElement } from 'react';
import { chanceOf } from '../../../core/answers/scrutineeringAnswer.ts';
import { changeText, valueText, type Wanted } from '../../../core/format/valueShown.ts';
import type { MarginRow } from '../../../core/scrutineering/marginBoard.ts';
import { mustRead, type Limit } from '../../../core/scrutineering/prediction.ts';
import type { BoardItem } from '../../../core/scrutineering/limitedItems.ts';
import { clockShown } from '../../clockShown.ts';
import { Tag } from '../../parts/Tag.tsx';
import { LimitFields } from './LimitFields.tsx';
import styles from './Screen.module.css';
import type { Scrutineering } from './useScrutineering.ts';
import { wantedOf } from '../../../core/format/wantedOf.ts';

const VERDICT = {
  passes: { tag: 'note', text: 'passes' },
  tight: { tag: 'stale', text: 'less sure' },
  fails: { tag: 'alarm', text: 'fails' },
  unknown: { tag: 'stale', text: 'not known' },
} as const;

const BASIS = {
  pairs: 'Theirs is predicted from pairs.',
  stated: 'Theirs is as you state it: no pairs yet that tell it.',
  'limits of error':
    'Theirs is within their limits of error, at the worst: no pairs yet that tell it.',
} as const;

const limitText = (wanted: Wanted, { low, high }: Limit): string =>
  [
    low === null ? '' : `≥ ${valueText(wanted, low)}`,
    high === null ? '' : `≤ ${valueText(wanted, high)}`,
  ]
    .filter(Boolean)
    .join(', ') || '—';

const WIDTH = 120;

/**
 * Their reading and its interval against the limit: the line is the limit, what lies on the hatched side of
 * it fails.
 */
const Picture = ({ row }: { readonly row: MarginRow }): ReactElement | null => {
  const { theirs } = row;
  const { low, high } = row.item.limit;
  if (!theirs) return null;
  const isLow = low !== null && (high === null || theirs.value - low <= high - theirs.value);
  const limit = isLow ? low : high;
  if (limit === null) return null;
  const sign = isLow ? 1 : -1;
  const ends = [theirs.low, theirs.high].map((end) => sign * (end - limit));
  const reach = 1.15 * Math.max(...ends.map(Math.abs), Number.MIN_VALUE);
  const x = (value: number): number => (WIDTH / 2) * (1 + value / reach);
  return (
    <svg width={WIDTH} height="22" aria-hidden="true" className={styles['picture']}>
      <rect x="0" y="3" width={WIDTH / 2} height="16" className={styles['fails']} />
      <path d={`M${WIDTH / 2} 1v20`} className={styles['limit']} />
      <path
        d={`M${x(Math.min(...ends))} 11H${x(Math.max(...ends))}`}
        className={styles['interval']}
      />
      <circle cx={x(sign * (theirs.value - limit))} cy="11" r="4.5" data-verdict={row.verdict} />
    </svg>
  );
};

const mustText = (wanted: Wanted, row: MarginRow, wished: number): string => {
  const { prediction, limit } = row.item;
  if (!prediction) return '—';
  const must = mustRead(prediction, limit, wished);
  return must.ok ? limitText({ ...wanted }, must) : 'no reading does';
};

const Row = ({
  row,
  behind,
  own,
}: {
  readonly row: MarginRow;
  readonly behind: BoardItem;
  readonly own: Scrutineering;
}): ReactElement => {
  const { theirs, item } = row;
  const { reading, known } = behind;
  const wanted = wantedOf(behind.item, own.state.settings.massUnit);
  const u = theirs ? (theirs.high - theirs.low) / 4 : null;
  const verdict = VERDICT[row.verdict];
  const notes = [
    ...new Set([
      ...(known?.basis ? [BASIS[known.basis]] : []),
      ...(row.why ? [row.why] : []),
      ...behind.notes,
    ]),
  ];

  return (
    <>
      <tr data-verdict={row.verdict}>
        <th scope="row">
          {item.name} <Tag kind={verdict.tag}>{verdict.text}</Tag>
        </th>
        <td className={styles['wraps']}>
          <strong>{chanceOf(row)}</strong>
        </td>
        <td>{row.margin === null ? '—' : changeText(wanted, row.margin, u)}</td>
        <td>{limitText(wanted, item.limit)}</td>
        <td>
          {item.ours === null
            ? '—'
            : valueText(wanted, item.ours, reading.is === 'read' ? reading.value.u : null)}
          {reading.is === 'read' ? (
            <small>
              {reading.from}, {clockShown(reading.at)}
            </small>
          ) : null}
        </td>
        <td className={styles['wraps']}>
          {theirs ? (
            <>
              {valueText(wanted, theirs.value, u)}
              <small>
                {valueText(wanted, theirs.low, u)} to {valueText(wanted, theirs.high, u)}
              </small>
            </>
          ) : (
            '—'
          )}
        </td>
        <td className={styles['pictured']}>
          <Picture row={row} />
        </td>
        <td>{mustText(wanted, row, own.wished)}</td>
      </tr>
      {notes.length > 0 ? (
        <tr className={styles['notes']}>
          <td colSpan={8}>{notes.join(' ')}</td>
        </tr>
      ) : null}
    </>
  );
};

/** Before the car goes: every limited item, the worst first. */
export const Board = ({ own }: { readonly own: Scrutineering }): ReactElement => (
  <>
    <section className={styles['table']} aria-label="Margin board" tabIndex={0}>
      <table>
        <thead>
          <tr>
            <th scope="col">item, the worst first</th>
            <th scope="col">passes with</th>
            <th scope="col">margin</th>
            <th scope="col">limit</th>
            <th scope="col">we read</th>
            <th scope="col">they will read</th>
            <th scope="col" className={styles['pictured']}>
              <span className="unseen">picture: the line is the limit, hatched fails</span>
            </th>
            <th scope="col">we must read</th>
          </tr>
        </thead>
        <tbody>
          {own.rows.map((row) => {
            const behind = own.items.find(({ limited }) => limited.id === row.item.id);
            return behind ? <Row key={row.item.id} row={row} behind={behind} own={own} /> : null;
          })}
        </tbody>
      </table>
    </section>
    <p className={styles['key']}>
      Intervals hold their reading with the wished confidence. Numbers are not permission: their
      equipment and their rules decide.
    </p>
    <LimitFields own={own} />
  </>
);
