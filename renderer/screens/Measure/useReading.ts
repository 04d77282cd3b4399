import { useState } from 'react';
import type { FieldQuestion } from '../../../core/alignment/fieldQuestion.ts';
import { typedValue, type Typed } from '../../../core/format/typed.ts';
import { firstUnit, type QuantityKind } from '../../../core/format/unitTable.ts';
import { valueText, type Wanted } from '../../../core/format/valueShown.ts';
import type { Measured } from '../../../core/measured.ts';
import type { CarRecord, Datum, Gauge, Reading } from '../../../core/sheet/carRecord.ts';
import { computedReading } from '../../../core/sheet/computedReading.ts';
import { gaugesFor, howRead, readWith } from '../../../core/sheet/gaugesKnown.ts';
import { impossibleValue } from '../../../core/sheet/impossibleValue.ts';
import type { Item } from '../../../core/sheet/items.ts';
import { itemValue, type ValueSources } from '../../../core/sheet/itemValue.ts';
import { lastPart, lastWay } from '../../../core/sheet/lastReadings.ts';
import { measuringDiameter } from '../../../core/sheet/measuringDiameter.ts';
import { readingQuestion } from '../../../core/sheet/readingQuestion.ts';
import { stringParts, stringsOf, type Strings } from '../../../core/sheet/strings.ts';
import { gaugeQuantity, WAY_FIELDS, type Way } from '../../../core/sheet/ways.ts';
import { wallClock } from '../../clockShown.ts';
import { newId } from '../../newId.ts';
import type { Measure } from './useMeasure.ts';
import { wantedIn } from './wantedIn.ts';

/** The name of the one field of an item that is typed as it is read. */
export const AS_READ = 'value';

export interface ReadingField {
  readonly what: string;
  readonly label: string;
  readonly unit: string;
  readonly isOptional: boolean;
}

/** A reading that was kept and is asked about. */
export interface Asked {
  readonly reading: Reading;
  readonly gauge: Gauge;
  readonly question: FieldQuestion;
}

export interface UseReading {
  readonly wanted: Wanted;
  readonly way: Way;
  readonly setWay: (way: Way) => void;
  readonly gauges: readonly Gauge[];
  readonly gauge: Gauge | null;
  readonly setGauge: (id: string) => void;
  readonly datum: Datum | null;
  readonly setDatum: (datum: Datum) => void;
  readonly strings: Strings | null;
  readonly setStrings: (strings: Strings) => void;
  readonly fields: readonly ReadingField[];
  readonly text: (what: string) => string;
  readonly setText: (what: string, text: string) => void;
  /** What was understood so far; null where nothing was typed. */
  readonly understood: (what: string) => Typed | null;
  /** Why it is not taken, beside the field; null where nothing is in the way. */
  readonly refused: string | null;
  readonly warnings: readonly string[];
  readonly asked: Asked | null;
  readonly settle: () => void;
  /** Keeps what was typed. Says what became of it. */
  readonly commit: () => 'kept' | 'asked' | 'refused';
}

/** The zero of a gauge stays as it was typed last. */
const ZERO = 'zero of the gauge';
/** Where a way's fields begin, for those that hardly change. */
const USUAL_TEXT: Readonly<Record<string, string>> = {
  'turned out by': '20°',
  'turned in by': '20°',
};

/** One item that is being read: what is typed, how it is understood, and what is asked about it. */
export const useReading = (
  measure: Measure,
  about: {
    readonly item: Item;
    readonly record: CarRecord;
    readonly sources: ValueSources;
  },
): UseReading => {
  const { item, record, sources } = about;
  const { sheet, before, gauges: owned, car, state } = measure;
  const [texts, setTexts] = useState<Readonly<Record<string, string>>>({});
  const [wayChosen, setWay] = useState<Way | null>(null);
  const [gaugeChosen, setGauge] = useState<string | null>(null);
  const [datumChosen, setDatum] = useState<Datum | null>(null);
  const [stringsTyped, setStrings] = useState<Strings | null>(null);
  const [refused, setRefused] = useState<string | null>(null);
  const [warnings, setWarnings] = useState<readonly string[]>([]);
  const [asked, setAsked] = useState<Asked | null>(null);

  const wanted = wantedIn(item, sheet, state.settings);
  const way =
    wayChosen ??
    lastWay(item, record, sources.items) ??
    lastWay(item, before?.record ?? null, sources.items) ??
    'as read';
  const quantity = gaugeQuantity(item, way);
  const how = howRead(
    { ...item, quantity },
    { record, before: before?.record ?? null, owned, items: sources.items },
  );
  const gauges = gaugesFor(quantity, owned);
  const gauge = gauges.find(({ id }) => id === gaugeChosen) ?? how?.gauge ?? gauges[0] ?? null;
  const datum = datumChosen ?? how?.datum ?? null;
  const strings = stringsTyped ?? stringsOf(record);
  const unitOfKind = (kind: QuantityKind): string => firstUnit(kind).unit;
  const fields: readonly ReadingField[] =
    way === 'as read'
      ? [
          {
            what: AS_READ,
            label: item.label,
            unit: wanted.unit ?? unitOfKind(item.quantity),
            isOptional: false,
          },
        ]
      : WAY_FIELDS[way].map((field) => ({
          ...field,
          label: `${item.label}: ${field.what}`,
          unit: unitOfKind(field.quantity),
        }));
  const diameter =
    item.corner && (item.kind === 'toe' || item.kind === 'bumpSteer')
      ? measuringDiameter(car, item.corner, record.state)
      : null;

  const zero = lastPart(record, ZERO);
  const zeroText = zero === null ? '' : valueText({ kind: 'angle', unit: null }, zero);
  const text = (what: string): string =>
    texts[what] ?? (what === ZERO ? zeroText : USUAL_TEXT[what]) ?? '';
  const understood = (what: string): Typed | null => {
    const field = fields.find((each) => each.what === what);
    if (!field || text(what).trim() === '') return null;
    const kind =
      way === 'as read'
        ? item.quantity
        : (WAY_FIELDS[way].find((each) => each.what === what)?.quantity ?? item.quantity);
    return typedValue(text(what), {
      kind,
      unit: field.unit,
      ...(way === 'as read' && diameter !== null ? { diameter } : {}),
    });
  };
  const refuse = (why: string): 'refused' => {
    setRefused(why);
    return 'refused';
  };
  const known = (id: string): Measured | null => {
    const value = itemValue(id, sources);
    return value.is === 'measured' ? value.value : null;
  };

  /** The values of what was typed, or why there are none. */
  const worked = (
    parts: Readonly<Record<string, number>>,
    used: Gauge,
  ):
    | { readonly ok: true; readonly values: readonly { item: string; value: Measured }[] }
    | { readonly ok: false; readonly why: string } => {
    if (way === 'as read') {
      const value = parts[AS_READ] ?? Number.NaN;
      return { ok: true, values: [{ item: item.id, value: readWith(used, value) }] };
    }
    const computed = computedReading({
      item,
      way,
      parts,
      gauge: used,
      datum,
      car,
      state: record.state,
      strings,
      movedSinceSquared: false,
      known,
    });
    if (!computed.ok) return { ok: false, why: `${computed.why} ${computed.next}` };
    setWarnings(computed.warnings);
    return { ok: true, values: [...computed.result] };
  };

  const commit = (): 'kept' | 'asked' | 'refused' => {
    if (!gauge) return refuse('Say first what it is read with.');
    const parts: Record<string, number> = {};
    for (const field of fields) {
      const typed = understood(field.what);
      if (typed === null) {
        if (field.isOptional) continue;
        return refuse(`Still to type: ${field.what === AS_READ ? item.label : field.what}.`);
      }
      if (!typed.ok) return refuse(typed.why);
      parts[field.what] = typed.value;
    }
    const found = worked(parts, gauge);
    if (!found.ok) return refuse(found.why);
    const isPlain = way === 'as read';
    let outcome: 'kept' | 'asked' = 'kept';
    for (const { item: id, value } of found.values) {
      const of = sources.items.get(id) ?? item;
      const why = impossibleValue(value.value, of, {
        field: id === item.id ? (fields[0]?.unit ?? null) : null,
      });
      if (why !== null) return refuse(why);
    }
    for (const { item: id, value } of found.values) {
      const of = sources.items.get(id) ?? item;
      const question = readingQuestion(of, { reading: value, sources, before, sheet });
      const reading: Reading = {
        is: 'reading',
        id: newId(),
        item: id,
        value: value.value,
        typed: fields
          .map(({ what }) => text(what).trim())
          .join('; ')
          .slice(0, 60),
        gauge: gauge.id,
        datum,
        of: isPlain
          ? []
          : [
              ...Object.entries(parts).map(([what, part]) => ({ what, value: part })),
              ...(strings && way.startsWith('string') ? stringParts(strings) : []),
            ],
        own: isPlain ? null : { u: value.u, dof: value.dof },
        questioned: question?.words ?? null,
        setAside: false,
        who: measure.who,
        at: wallClock(),
      };
      measure.keepEntry(reading, gauge);
      if (question && id === item.id) {
        setAsked({ reading, gauge, question });
        outcome = 'asked';
      }
    }
    setTexts({});
    setRefused(null);
    if (outcome === 'kept') setAsked(null);
    return outcome;
  };

  return {
    wanted,
    way,
    setWay: (next) => {
      setWay(next);
      setTexts({});
      setRefused(null);
    },
    gauges: gauge && !gauges.some(({ id }) => id === gauge.id) ? [gauge, ...gauges] : gauges,
    gauge,
    setGauge,
    datum,
    setDatum,
    strings,
    setStrings,
    fields,
    text,
    setText: (what, typed) => {
      setTexts((now) => ({ ...now, [what]: typed }));
      setRefused(null);
    },
    understood,
    refused,
    warnings,
    asked,
    settle: () => setAsked(null),
    commit,
  };
};
