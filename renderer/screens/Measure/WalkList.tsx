import { useEffect, useRef, type ReactElement } from 'react';
import { Button } from 'react-aria-components/Button';
import { uncertaintyText, valueText } from '../../../core/format/valueShown.ts';
import { askedItems } from '../../../core/sheet/askedItems.ts';
import type { CarRecord } from '../../../core/sheet/carRecord.ts';
import type { Item } from '../../../core/sheet/items.ts';
import { markOf, type ItemMark } from '../../../core/sheet/itemMark.ts';
import { itemValue, type ValueSources } from '../../../core/sheet/itemValue.ts';
import { lineOf } from '../../../core/sheet/setUpSheet.ts';
import { isTyped } from '../../../core/sheet/walk.ts';
import { cx } from '../../parts/cx.ts';
import type { Measure } from './useMeasure.ts';
import type { WalkSeen } from '../../../core/answers/walkSeen.ts';
import { wantedIn } from './wantedIn.ts';
import styles from './Screen.module.css';

/** Ring, tick, question, struck ring: told apart without colour. */
const SHAPES: Readonly<Record<ItemMark, string>> = {
  'to do': 'M8 2.5a5.5 5.5 0 1 0 .01 0',
  done: 'M2.5 8.5 6.5 12.5 13.5 4',
  questioned: 'M5 5.2C5 1.6 11 1.6 11 5.2 11 7.6 8 7.4 8 10M8 12.6v1',
  stale: 'M8 2.5a5.5 5.5 0 1 0 .01 0M3.5 12.5l9-9',
};

const Row = ({
  item,
  props: { measure, sources, record, seen, itemId, onGo },
}: {
  readonly item: Item;
  readonly props: WalkListProps;
}): ReactElement => {
  const value = itemValue(item.id, sources);
  const wanted = wantedIn(item, measure.sheet, measure.state.settings);
  const line = measure.sheet && lineOf(measure.sheet, item.id);
  const typed = isTyped(item);
  const follows: ItemMark =
    value.is === 'missing' ? 'to do' : seen.stale.has(item.id) ? 'stale' : 'done';
  const mark = typed ? markOf(record, item) : follows;
  const isOff =
    value.is === 'measured' &&
    line !== null &&
    line.target !== null &&
    line.tolerance !== null &&
    Math.abs(value.value.value - line.target) > line.tolerance;
  return (
    <li>
      <Button
        className={cx(styles['row'])}
        aria-current={item.id === itemId ? 'step' : 'false'}
        onPress={() => onGo(item.id)}
      >
        <span className={styles['mark']} data-mark={mark}>
          <svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true">
            <path d={SHAPES[mark]} fill="none" stroke="currentColor" strokeWidth="2" />
          </svg>
          {mark}
        </span>
        <span className={styles['name']}>{item.label}</span>
        <span className={styles['value']} data-stale={mark === 'stale'}>
          {value.is === 'missing' ? '—' : valueText(wanted, value.value.value, value.value.u)}
          {value.is === 'missing' ? null : (
            <small>
              {' '}
              {value.unknown.length > 0 ? '≥' : ''}±{uncertaintyText(wanted, value.value.u)}
            </small>
          )}
        </span>
        <span className={styles['target']} data-off={isOff}>
          {line && line.target !== null ? (
            <>
              {isOff ? 'off ' : ''}
              {valueText(wanted, line.target)}
              {line.tolerance === null ? '' : ` ±${valueText(wanted, line.tolerance)}`}
            </>
          ) : null}
        </span>
      </Button>
    </li>
  );
};

export interface WalkListProps {
  readonly measure: Measure;
  readonly sources: ValueSources;
  readonly record: CarRecord;
  readonly seen: WalkSeen;
  readonly itemId: string | null;
  readonly onGo: (itemId: string) => void;
}

/** The whole walk with what was found, then what follows from it. */
export const WalkList = (props: WalkListProps): ReactElement => {
  const { sources, record, measure, seen } = props;
  const rest = askedItems([...sources.items.values()], { record, sheet: measure.sheet }).filter(
    (item) => !isTyped(item),
  );
  const box = useRef<HTMLElement>(null);
  const { itemId } = props;
  useEffect(() => {
    const own = box.current;
    const row = own?.querySelector<HTMLElement>('[aria-current="step"]');
    if (!own || !row || own.scrollHeight <= own.clientHeight) return;
    // The list alone is scrolled: the field must not move away.
    own.scrollTop = row.offsetTop - own.clientHeight / 3;
  }, [itemId]);
  return (
    <section aria-label="Walk" className={styles['items']} ref={box}>
      <ol>
        {seen.walk.map((item) => (
          <Row key={item.id} item={item} props={props} />
        ))}
      </ol>
      {rest.length > 0 ? (
        <>
          <h2>From the pads and from other items</h2>
          <ol>
            {rest.map((item) => (
              <Row key={item.id} item={item} props={props} />
            ))}
          </ol>
        </>
      ) : null}
    </section>
  );
};
