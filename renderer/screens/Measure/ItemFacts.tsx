import type { ReactElement } from 'react';
import { toeLength } from '../../../core/alignment/toe.ts';
import {
  changeText,
  degreesMinutesText,
  measuredText,
  valueText,
  type Wanted,
  MM,
} from '../../../core/format/valueShown.ts';
import type { CarRecord } from '../../../core/sheet/carRecord.ts';
import { bumpSteerOf } from '../../../core/sheet/bumpSteerOf.ts';
import { heightsPlane } from '../../../core/sheet/heightsPlane.ts';
import { heightOnTyres } from '../../../core/sheet/heightOnTyres.ts';
import type { Item } from '../../../core/sheet/items.ts';
import { itemValue, type ValueSources } from '../../../core/sheet/itemValue.ts';
import { measuringDiameter } from '../../../core/sheet/measuringDiameter.ts';
import { lineOf } from '../../../core/sheet/setUpSheet.ts';
import { standingOf } from '../../../core/sheet/stale.ts';
import type { Measure } from './useMeasure.ts';
import { workWords } from './useWalk.ts';
import styles from './Screen.module.css';

/** Beside the field: target, value, the same in other words and on other wheels, how it stands. */
export const ItemFacts = ({
  measure,
  sources,
  record,
  item,
  wanted,
}: {
  readonly measure: Measure;
  readonly sources: ValueSources;
  readonly record: CarRecord;
  readonly item: Item;
  readonly wanted: Wanted;
}): ReactElement => {
  const { sheet, before } = measure;
  const line = sheet && lineOf(sheet, item.id);
  const value = itemValue(item.id, sources);
  const earlier = before && itemValue(item.id, before);
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
      measuredText(wanted, value.value),
    ]);
    if (diameter !== null)
      facts.push([
        `over ${valueText(MM, diameter)}`,
        `${valueText(MM, toeLength(v, diameter), Math.abs(toeLength(u, diameter)))}, ${degreesMinutesText(v)}`,
      ]);
    if (value.unknown.length > 0) facts.push(['not in ±', value.unknown.join(', ')]);
  }
  const notPlane = item.kind === 'height' ? heightsPlane(measure.car, sources) : null;
  if (notPlane !== null) facts.push(['all heights', notPlane]);
  if (tyres)
    facts.push([
      'on tyres',
      tyres.ok ? valueText(wanted, tyres.result.value, tyres.result.u) : `not known: ${tyres.why}`,
    ]);
  const bump = item.kind === 'bumpSteer' && item.corner ? bumpSteerOf(item.corner, sources) : null;
  if (bump)
    facts.push([
      'bump steer',
      bump.ok
        ? `${changeText({ kind: 'angle', unit: '′' }, bump.result.slope.value / 1000, bump.result.slope.u / 1000)} a mm of bump`
        : bump.why,
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
