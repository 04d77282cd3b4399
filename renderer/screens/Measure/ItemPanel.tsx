import { useEffect, useRef, type KeyboardEvent, type ReactElement } from 'react';
import { Input } from 'react-aria-components/Input';
import { Label } from 'react-aria-components/Label';
import { Text } from 'react-aria-components/Text';
import { TextField } from 'react-aria-components/TextField';
import { changeText, valueText } from '../../../core/format/valueShown.ts';
import type { CarRecord } from '../../../core/sheet/carRecord.ts';
import { datumsOf } from '../../../core/sheet/gaugesKnown.ts';
import type { Item } from '../../../core/sheet/items.ts';
import type { ValueSources } from '../../../core/sheet/itemValue.ts';
import { standingOf } from '../../../core/sheet/stale.ts';
import { waysOf } from '../../../core/sheet/ways.ts';
import { useFreeKeys } from '../../freeKeys.ts';
import { wallClock } from '../../clockShown.ts';
import { newId } from '../../newId.ts';
import { Choice } from '../../parts/Choice.tsx';
import { cx } from '../../parts/cx.ts';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { AskedNote } from './AskedNote.tsx';
import { GaugeFields } from './GaugeFields.tsx';
import { ItemFacts } from './ItemFacts.tsx';
import { PracticeReading } from './PracticeReading.tsx';
import { ReadingList } from './ReadingList.tsx';
import { StringFields } from './StringFields.tsx';
import type { Measure } from './useMeasure.ts';
import { useReading, type ReadingField, type UseReading } from './useReading.ts';
import styles from './Screen.module.css';

interface ItemPanelProps {
  readonly measure: Measure;
  readonly sources: ValueSources;
  readonly record: CarRecord;
  readonly item: Item;
  /** The field takes the keys with each turn; zero leaves them where they are. */
  readonly turn: number;
  readonly onNext: () => void;
  readonly onBack: () => void;
}

interface BigFieldProps {
  readonly field: ReadingField;
  readonly reading: UseReading;
  readonly isBig: boolean;
  readonly onKeyDown: (event: KeyboardEvent<HTMLInputElement>) => void;
}

const BigField = ({ field, reading, isBig, onKeyDown }: BigFieldProps): ReactElement => {
  const typed = reading.understood(field.what);
  return (
    <TextField
      className={cx(styles['big'])}
      value={reading.text(field.what)}
      onChange={(text) => reading.setText(field.what, text)}
      isInvalid={typed !== null && !typed.ok}
    >
      <Label className={cx(isBig ? styles['bigLabel'] : styles['partLabel'])}>
        {field.label}, {field.unit === '' ? 'number' : field.unit}
        {field.isOptional ? ' (if read)' : ''}
      </Label>
      <Input
        className={cx(isBig ? styles['bigInput'] : styles['partInput'])}
        inputMode="decimal"
        data-reading=""
        onKeyDown={onKeyDown}
      />
      <Text slot="description" className={cx(styles['said'])} data-ok={typed === null || typed.ok}>
        {typed === null ? ' ' : typed.ok ? typed.understood : typed.why}
      </Text>
    </TextField>
  );
};

/** The item that is being read: big field, what was understood, what is asked, how it is read. */
export const ItemPanel = (props: ItemPanelProps): ReactElement => {
  const { measure, sources, record, item, turn, onNext, onBack } = props;
  const reading = useReading(measure, { item, record, sources });
  const panel = useRef<HTMLElement>(null);
  const inputs = (): readonly HTMLInputElement[] => [
    ...(panel.current?.querySelectorAll<HTMLInputElement>('input[data-reading]') ?? []),
  ];
  const focusFirst = (): void => inputs()[0]?.focus();
  useEffect(() => {
    if (turn > 0) panel.current?.querySelector<HTMLInputElement>('input[data-reading]')?.focus();
  }, [turn]);
  useFreeKeys({ Enter: focusFirst });

  const commit = (): void => {
    const outcome = reading.commit();
    if (outcome === 'kept') onNext();
    else focusFirst();
  };
  const keyDown = (event: KeyboardEvent<HTMLInputElement>): void => {
    const own = event.currentTarget;
    const all = inputs();
    const isEmpty = all.every((each) => each.value.trim() === '');
    if (event.key === 'Enter') {
      event.preventDefault();
      const next = all[all.indexOf(own) + 1];
      if (isEmpty) {
        reading.settle();
        onNext();
      } else if (next && !reading.fields[all.indexOf(own) + 1]?.isOptional) next.focus();
      else commit();
    }
    if (event.key === 'Escape') {
      event.stopPropagation();
      if (isEmpty) onBack();
      else for (const { what } of reading.fields) reading.setText(what, '');
    }
  };
  const datums = datumsOf(item.kind);
  const ways = waysOf(item);
  const { asked } = reading;
  return (
    <section className={styles['item']} aria-label="Reading" ref={panel}>
      <div className={styles['bigs']}>
        {reading.fields.map((field) => (
          <BigField
            key={field.what}
            field={field}
            reading={reading}
            isBig={reading.fields.length === 1}
            onKeyDown={keyDown}
          />
        ))}
        <ItemFacts
          measure={measure}
          sources={sources}
          record={record}
          item={item}
          wanted={reading.wanted}
        />
      </div>
      {measure.state.practice ? (
        <PracticeReading key={item.id} item={item} reading={reading} />
      ) : null}
      {reading.refused === null ? null : (
        <p className={styles['refused']} role="status">
          {reading.refused}
        </p>
      )}
      {asked ? (
        <AskedNote
          difference={changeText(reading.wanted, asked.question.difference)}
          meant={asked.question.slip ? valueText(reading.wanted, asked.question.slip.meant) : null}
          question={asked.question}
          hasOthers={standingOf(record, item).fresh.some(({ id }) => id !== asked.reading.id)}
          onKeep={() => {
            reading.settle();
            onNext();
          }}
          onReadAgain={() => {
            measure.keepEntry({ ...asked.reading, setAside: true }, asked.gauge);
            reading.settle();
            focusFirst();
          }}
          onMeant={(value) => {
            measure.keepEntry({ ...asked.reading, setAside: true }, asked.gauge);
            measure.keepEntry(
              {
                ...asked.reading,
                id: newId(),
                value,
                typed: `${asked.reading.typed}, meant ${valueText(reading.wanted, value)}`.slice(
                  0,
                  60,
                ),
                questioned: null,
                at: wallClock(),
              },
              asked.gauge,
            );
            reading.settle();
            onNext();
          }}
        />
      ) : null}
      {reading.warnings.map((warning) => (
        <p key={warning} className={styles['help']}>
          {warning}
        </p>
      ))}
      <div className={styles['how']}>
        {ways.length > 1 ? (
          <Pick
            label="How it is read"
            options={ways.map((value) => ({ value, text: value }))}
            value={reading.way}
            onChange={reading.setWay}
          />
        ) : null}
        {datums.length > 0 ? (
          <Choice
            label="Against"
            options={datums.map((value) => ({ value, text: value }))}
            value={reading.datum}
            onChange={reading.setDatum}
          />
        ) : null}
        <GaugeFields measure={measure} reading={reading} />
        <span className={styles['go']}>
          <PushButton onPress={onBack}>Back</PushButton>
          <PushButton look="main" onPress={commit}>
            Keep and go on
          </PushButton>
        </span>
      </div>
      {reading.way.startsWith('string') ? (
        <StringFields measure={measure} reading={reading} record={record} sources={sources} />
      ) : null}
      <ReadingList measure={measure} record={record} item={item} wanted={reading.wanted} />
    </section>
  );
};
