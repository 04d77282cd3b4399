import { useState, type ReactElement } from 'react';
import { stringSkew } from '../../../core/alignment/stringSkew.ts';
import { degreesMinutesText, MM } from '../../../core/format/valueShown.ts';
import type { CarRecord } from '../../../core/sheet/carRecord.ts';
import { readWith } from '../../../core/sheet/gaugesKnown.ts';
import { itemValue, type ValueSources } from '../../../core/sheet/itemValue.ts';
import { squarenessOf, STRING_WORDS, type Strings } from '../../../core/sheet/strings.ts';
import { readingsWithStrings } from '../../../core/sheet/stringsAgain.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Field } from '../../parts/Field.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { quantityField, understandOrNone } from '../../parts/understandQuantity.ts';
import type { Measure } from './useMeasure.ts';
import type { UseReading } from './useReading.ts';
import styles from './Screen.module.css';

type Draft = { readonly to: Strings['to'] } & {
  readonly [K in Exclude<keyof Strings, 'to'>]: number | null;
};

const SIDES = ['frontLeft', 'frontRight', 'rearLeft', 'rearRight', 'apart'] as const;
const HUBS = ['wheelbase', 'spacingFront', 'spacingRear'] as const;

const EMPTY: Draft = {
  to: 'chassis',
  frontLeft: null,
  frontRight: null,
  rearLeft: null,
  rearRight: null,
  apart: null,
  wheelbase: null,
  spacingFront: null,
  spacingRear: null,
};

const complete = (draft: Draft): Strings | null => {
  const { to, frontLeft, frontRight, rearLeft, rearRight, apart } = draft;
  if (frontLeft === null || frontRight === null || rearLeft === null) return null;
  if (rearRight === null || apart === null) return null;
  const hubs = HUBS.map((key) => draft[key]);
  if (to === 'hubs' && hubs.includes(null)) return null;
  const [wheelbase = null, spacingFront = null, spacingRear = null] = to === 'hubs' ? hubs : [];
  return {
    to,
    frontLeft,
    frontRight,
    rearLeft,
    rearRight,
    apart,
    wheelbase,
    spacingFront,
    spacingRear,
  };
};

/** How the strings stand to the car, once for all wheels; what is left of it is taken out of the toes. */
export const StringFields = ({
  measure,
  reading,
  record,
  sources,
}: {
  readonly measure: Measure;
  readonly reading: UseReading;
  readonly record: CarRecord;
  readonly sources: ValueSources;
}): ReactElement => {
  const [typed, setTyped] = useState<Draft | null>(null);
  const draft: Draft = typed ?? reading.strings ?? EMPTY;
  const { gauge } = reading;
  const change = (next: Draft): void => {
    setTyped(next);
    const whole = complete(next);
    if (whole) reading.setStrings(whole);
  };
  const field = (key: Exclude<keyof Strings, 'to'>): ReactElement => (
    <Field
      key={key}
      label={
        key === 'apart' && draft.to === 'hubs'
          ? 'along the car between the bars'
          : STRING_WORDS[key]
      }
      text={quantityField(MM, draft[key])}
      inputMode="decimal"
      understand={understandOrNone({
        ...MM,
        none: 'not read',
        refuse: (value) => (value > 0 && value < 10 ? null : 'A distance above nothing.'),
      })}
      onCommit={(value) => change({ ...draft, [key]: value })}
    />
  );
  const whole = complete(draft);
  const square = whole && gauge ? squarenessOf(whole, (value) => readWith(gauge, value)) : null;
  const skew = square && stringSkew(square);
  const again = whole
    ? readingsWithStrings(record, whole, {
        car: measure.car,
        items: sources.items,
        known: (id) => {
          const value = itemValue(id, sources);
          return value.is === 'measured' ? value.value : null;
        },
      }).filter((next) =>
        record.entries.some(
          (entry) => entry.id === next.id && entry.is === 'reading' && entry.value !== next.value,
        ),
      )
    : [];
  return (
    <div className={styles['gauge']} role="group" aria-label="Strings">
      <Choice
        label="Strings squared to"
        options={[
          { value: 'chassis', text: 'the chassis' },
          { value: 'hubs', text: 'the hub centres' },
        ]}
        value={draft.to}
        onChange={(to) => change({ ...draft, to })}
      />
      {SIDES.map(field)}
      {draft.to === 'hubs' ? HUBS.map(field) : null}
      <p className={styles['help']}>
        {skew === null
          ? 'From the car outboard to the string, at right angles to it: then what is left is taken out of every toe.'
          : skew.ok
            ? `Left string ${degreesMinutesText(skew.result.left.value)}, right ${degreesMinutesText(skew.result.right.value)} off the car, outward to the front positive: taken out.`
            : `${skew.why} ${skew.next}`}
      </p>
      {again.length > 0 ? (
        <PushButton
          small
          onPress={() => {
            for (const next of again)
              measure.keepEntry(next, record.gauges.find(({ id }) => id === next.gauge) ?? null);
          }}
        >
          Take it out of the {again.length} toes read before
        </PushButton>
      ) : null}
    </div>
  );
};
