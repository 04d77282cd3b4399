import type { ReactElement } from 'react';
import type { Comparison, JudgedItem } from '../../../core/compare/compareItems.ts';
import { changeText, valueText } from '../../../core/format/valueShown.ts';
import type { Item } from '../../../core/sheet/items.ts';
import type { MassUnit } from '../../../core/units.ts';
import { Tag } from '../../parts/Tag.tsx';
import styles from './Screen.module.css';

const ORDER = { moved: 0, 'cannot tell': 1, same: 2 } as const;
const TAG = { moved: 'alarm', 'cannot tell': 'stale', same: 'note' } as const;
/** The same three against a target. */
const AGAINST_TARGET = { moved: 'off', 'cannot tell': 'cannot tell', same: 'within' } as const;
/** Width of the bar for a change of one limit, px; it ends at twice that. */
const LIMIT_PX = 36;

/** What matters first: moved before open before same, the larger in limits first. */
const sorted = (items: readonly JudgedItem[]): readonly JudgedItem[] =>
  items.toSorted(
    (a, b) =>
      ORDER[a.verdict] - ORDER[b.verdict] ||
      Math.abs(b.change.value) / b.limit - Math.abs(a.change.value) / a.limit,
  );

const clamp = (value: number): number => Math.max(-2, Math.min(2, value));

/** The change and its 90 % interval in limits: the band of the limit, a bar, a dot. */
const Bar = ({ item }: { readonly item: JudgedItem }): ReactElement => {
  const x = (value: number): number => 2 * LIMIT_PX + clamp(value / item.limit) * LIMIT_PX;
  const [low, high] = item.interval;
  return (
    <svg width={4 * LIMIT_PX} height="22" aria-hidden="true" className={styles['bar']}>
      <rect x={LIMIT_PX} y="3" width={2 * LIMIT_PX} height="16" className={styles['band']} />
      <path d={`M${2 * LIMIT_PX} 1v20`} className={styles['zero']} />
      <path d={`M${x(low)} 11H${x(high)}`} className={styles['interval']} />
      <circle cx={x(item.change.value)} cy="11" r="4.5" data-verdict={item.verdict} />
    </svg>
  );
};

/** Every item of two records: value, change, verdict, and what would settle an open one. */
export const ChangeTable = ({
  comparison,
  items,
  massUnit,
  isAgainstTarget,
}: {
  readonly comparison: Comparison;
  readonly items: ReadonlyMap<string, Item>;
  readonly massUnit: MassUnit;
  /** The first column has what a sheet wants, not what a record had. */
  readonly isAgainstTarget: boolean;
}): ReactElement => {
  const wanted = (id: string) => {
    const kind = items.get(id)?.quantity ?? 'number';
    return { kind, unit: kind === 'mass' ? massUnit : null };
  };
  return (
    <div className={styles['table']}>
      <table>
        <thead>
          <tr>
            <th scope="col">item</th>
            <th scope="col">{isAgainstTarget ? 'target' : 'before'}</th>
            <th scope="col">after</th>
            <th scope="col">{isAgainstTarget ? 'off by' : 'change'}</th>
            <th scope="col">in limits</th>
            <th scope="col">verdict</th>
          </tr>
        </thead>
        <tbody>
          {sorted(comparison.items).map((item) => (
            <tr key={item.id} data-verdict={item.verdict}>
              <th scope="row">{items.get(item.id)?.label ?? item.id}</th>
              <td>{valueText(wanted(item.id), item.before, item.change.u)}</td>
              <td>{valueText(wanted(item.id), item.after, item.change.u)}</td>
              <td>
                {changeText(wanted(item.id), item.change.value, item.change.u)}{' '}
                <small>±{valueText(wanted(item.id), item.change.u, item.change.u)}</small>
                {item.takenOut === 0 ? null : (
                  <small className={styles['below']}>
                    {changeText(wanted(item.id), item.takenOut, item.change.u)} taken out
                  </small>
                )}
              </td>
              <td>
                <Bar item={item} />
              </td>
              <td>
                <Tag kind={TAG[item.verdict]}>
                  {isAgainstTarget ? AGAINST_TARGET[item.verdict] : item.verdict}
                </Tag>
                {item.readings === null ? null : (
                  <small className={styles['below']}>{item.readings} readings would tell</small>
                )}
              </td>
            </tr>
          ))}
          {comparison.notCompared.map((item) => (
            <tr key={item.id} data-verdict="none">
              <th scope="row">{items.get(item.id)?.label ?? item.id}</th>
              <td>{item.before === null ? '—' : valueText(wanted(item.id), item.before)}</td>
              <td>{item.after === null ? '—' : valueText(wanted(item.id), item.after)}</td>
              <td colSpan={3}>
                <small>{item.why}</small>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
};
