import type { ReactElement } from 'react';
import type { CarRecord } from '../../../core/sheet/carRecord.ts';
import type { Item } from '../../../core/sheet/items.ts';
import { ITEM_KINDS, type ItemKind } from '../../../core/sheet/itemKinds.ts';
import type { ValueSources } from '../../../core/sheet/itemValue.ts';
import { lineOf } from '../../../core/sheet/setUpSheet.ts';
import { isTyped } from '../../../core/sheet/walk.ts';
import { walkOfRecord } from '../../../core/sheet/askedItems.ts';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { kindOptions } from './kindOptions.ts';
import type { Measure } from './useMeasure.ts';
import styles from './Screen.module.css';

/** Puts more into the walk, by kind, and takes out what nobody asked for. */
export const AddToWalk = ({
  measure,
  sources,
  record,
  item,
}: {
  readonly measure: Measure;
  readonly sources: ValueSources;
  readonly record: CarRecord;
  readonly item: Item | null;
}): ReactElement => {
  const { sheet } = measure;
  const all = [...sources.items.values()];
  const walk = walkOfRecord(all, { record, sheet }).map(({ id }) => id);
  const open = all.filter((each) => isTyped(each) && !walk.includes(each.id));
  const add = (kind: ItemKind): void =>
    measure.keepRecord({
      ...record,
      walk: [...walk, ...open.filter((each) => each.kind === kind).map(({ id }) => id)],
    });
  const canLeaveOut =
    item !== null &&
    isTyped(item) &&
    walk.includes(item.id) &&
    !(sheet && lineOf(sheet, item.id)) &&
    !record.entries.some((entry) => entry.is === 'reading' && entry.item === item.id);
  const move = (by: -1 | 1): void => {
    if (!item) return;
    const place = walk.indexOf(item.id);
    const other = walk[place + by];
    if (place < 0 || other === undefined) return;
    measure.keepRecord({
      ...record,
      walk: walk.with(place + by, item.id).with(place, other),
    });
  };
  return (
    <div className={styles['buttons']}>
      <Pick
        label="Add to the walk"
        options={kindOptions(open)}
        value={null}
        placeholder="what else"
        onChange={add}
      />
      {item && walk.includes(item.id) ? (
        <>
          <PushButton small look="quiet" onPress={() => move(-1)}>
            Earlier
          </PushButton>
          <PushButton small look="quiet" onPress={() => move(1)}>
            Later
          </PushButton>
        </>
      ) : null}
      {canLeaveOut ? (
        <PushButton
          small
          look="quiet"
          onPress={() =>
            measure.keepRecord({ ...record, walk: walk.filter((id) => id !== item.id) })
          }
        >
          Leave out {ITEM_KINDS[item.kind].words}
        </PushButton>
      ) : null}
    </div>
  );
};
