import { useEffect, useRef, type KeyboardEvent, type ReactElement } from 'react';
import { Input } from 'react-aria-components/Input';
import { Label } from 'react-aria-components/Label';
import { Text } from 'react-aria-components/Text';
import { TextField } from 'react-aria-components/TextField';
import {
  changeText,
  degreesMinutesText,
  uncertaintyText,
  valueText,
} from '../../../core/format/valueShown.ts';
import { toeLength } from '../../../core/alignment/toe.ts';
import type { CarRecord } from '../../../core/sheet/carRecord.ts';
import { datumsOf } from '../../../core/sheet/gaugesKnown.ts';
import { heightOnTyres } from '../../../core/sheet/heightOnTyres.ts';
import type { Item } from '../../../core/sheet/items.ts';
import { itemValue, type ValueSources } from '../../../core/sheet/itemValue.ts';
import { measuringDiameter } from '../../../core/sheet/measuringDiameter.ts';
import { lineOf } from '../../../core/sheet/setUpSheet.ts';
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
import { ReadingList } from './ReadingList.tsx';
import { StringFields } from './StringFields.tsx';
import type { Measure } from './useMeasure.ts';
import { useReading, type ReadingField, type UseReading } from './useReading.ts';
import { workWords } from './useWalk.ts';
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

/** Beside the value: in other words, on other wheels, how it stands. */
const Facts = ({
  measure,
  sources,
  record,
  item,
  reading,
}: ItemPanelProps & { readonly reading: UseReading }) => {
  const { sheet, before } = measure;
  const line = sheet && lineOf(sheet, item.id);
  const value = itemValue(item.id, sources);
  const earlier = before && itemValue(item.id, before);
  const { wanted } = reading;
  const diameter =
    item.corner && (item.kind === 'toe' || item.kind === 'bumpSteer')
      ? measuringDiameter(measure.car, item.corner, record.state)
      : null;
  const standing = standingOf(record, item);
  const tyres =
    item.kind === 'height' && value.is === 'measured'
      ? heightOnTyres(item, sources, { car: measure.car, gravity: measure.state.gravity })
      : null;
  const facts: (readonly [string, string])[] = [];
  if (line && line.target !== null)
    facts.push([
      'target',
      `${valueText(wanted, line.target)}${line.tolerance === null ? '' : ` ±${valueText(wanted, line.tolerance)}`}`,
    ]);
  if (value.is === 'measured') {
    const { value: v, u } = value.value;
    facts.push([
      value.count > 1 ? `mean of ${value.count}` : 'now',
      `${valueText(wanted, v, u)} ±${uncertaintyText(wanted, u)}`,
    ]);
    if (diameter !== null)
      facts.push([
        `over ${valueText({ kind: 'length', unit: 'mm' }, diameter)}`,
        `${valueText({ kind: 'length', unit: 'mm' }, toeLength(v, diameter), Math.abs(toeLength(u, diameter)))}, ${degreesMinutesText(v)}`,
      ]);
    if (value.unknown.length > 0) facts.push(['not in ±', value.unknown.join(', ')]);
  }
  if (tyres)
    facts.push([
      'on tyres',
      tyres.ok ? valueText(wanted, tyres.result.value, tyres.result.u) : `not known: ${tyres.why}`,
    ]);
  if (earlier?.is === 'measured')
    facts.push([
      `${before?.record.phase ?? ''} before`,
      valueText(wanted, earlier.value.value, earlier.value.u),
    ]);
  if (standing.disturbedBy && standing.fresh.length === 0 && standing.stale.length > 0)
    facts.push(['stale since', workWords(standing.disturbedBy, measure)]);
  return (
    <dl className={styles['facts']}>
      {facts.map(([name, said]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{said}</dd>
        </div>
      ))}
    </dl>
  );
};

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
        <Facts {...props} reading={reading} />
      </div>
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
