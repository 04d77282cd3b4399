import type { ReactElement } from 'react';
import { valueText, type Wanted } from '../../../core/format/valueShown.ts';
import type { CarRecord, Reading } from '../../../core/sheet/carRecord.ts';
import type { Item } from '../../../core/sheet/items.ts';
import { clockShown } from '../../clockShown.ts';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import type { Measure } from './useMeasure.ts';
import styles from './Screen.module.css';

/** What was read of an item so far; nothing is deleted, only set aside. */
export const ReadingList = ({
  measure,
  record,
  item,
  wanted,
}: {
  readonly measure: Measure;
  readonly record: CarRecord;
  readonly item: Item;
  readonly wanted: Wanted;
}): ReactElement | null => {
  const readings = record.entries.filter(
    (entry): entry is Reading => entry.is === 'reading' && entry.item === item.id,
  );
  if (readings.length === 0) return null;
  const gaugeOf = (id: string) => record.gauges.find((gauge) => gauge.id === id) ?? null;
  return (
    <ul className={styles['readings']} aria-label={`Readings of ${item.label}`}>
      {readings.map((reading) => (
        <li key={reading.id} data-aside={reading.setAside}>
          <span>
            <strong>{valueText(wanted, reading.value, reading.own?.u ?? 0)}</strong>{' '}
            <small>
              typed “{reading.typed}”, {gaugeOf(reading.gauge)?.name ?? reading.gauge}
              {reading.datum === null ? '' : `, against ${reading.datum}`}, {clockShown(reading.at)}
              {reading.who === '' ? '' : `, ${reading.who}`}
            </small>{' '}
            {reading.questioned === null ? null : <Tag kind="note">questioned</Tag>}
            {reading.setAside ? <Tag kind="stale">set aside</Tag> : null}
          </span>
          <PushButton
            small
            look="quiet"
            onPress={() =>
              measure.keepEntry({ ...reading, setAside: !reading.setAside }, gaugeOf(reading.gauge))
            }
          >
            {reading.setAside ? 'Take back' : 'Set aside'}
          </PushButton>
        </li>
      ))}
    </ul>
  );
};
