import type { BenchState } from '../contract/events.ts';
import { fixed } from '../format/number.ts';
import { MM, valueText, type Wanted } from '../format/valueShown.ts';
import type { Reading } from '../sheet/carRecord.ts';
import { itemValue, type ValueSources } from '../sheet/itemValue.ts';
import { measuringDiameter } from '../sheet/measuringDiameter.ts';
import { throughTie } from '../sheet/ties.ts';
import { NOT_KNOWN, type PutIn, type Worked } from './worked.ts';

const ANGLE: Wanted = { kind: 'angle', unit: '°' };
const FINE = 1e-6;
const FINE_ANGLE = 1e-4;

/** The newest reading that was made of parts, one of them named so. */
const newestWith = ({ record }: ValueSources, part: string): Reading | null =>
  record.entries.findLast(
    (entry): entry is Reading =>
      entry.is === 'reading' && !entry.setAside && entry.of.some(({ what }) => what === part),
  ) ?? null;

const parts = (reading: Reading | null, wanted: Wanted, names: readonly string[]): PutIn[] =>
  names.map((name) => {
    const value = reading?.of.find(({ what }) => what === name)?.value;
    return {
      name,
      value:
        value === undefined
          ? NOT_KNOWN
          : valueText(wanted, value, wanted === ANGLE ? FINE_ANGLE : FINE),
    };
  });

/** How the newest toe by strings, the newest camber with the gauge turned round and the rake come about. */
export const measureWorked = (
  sources: ValueSources,
  { car, carState }: Pick<BenchState, 'car' | 'carState'>,
): readonly Worked[] => {
  const { items, ties } = sources;
  const named = (reading: Reading | null): string => {
    const label = reading && items.get(reading.item)?.label;
    return label ? `, ${label}` : '';
  };
  const toe = newestWith(sources, 'front of the rim');
  const camber = newestWith(sources, 'turned round');
  const corner = toe ? (items.get(toe.item)?.corner ?? null) : null;
  const diameter = corner && measuringDiameter(car, corner, carState);
  const rake = ties.find(({ item }) => item === 'rake') ?? null;
  const known = (item: string): number | null => {
    const value = itemValue(item, sources);
    return value.is === 'measured' ? value.value.value : null;
  };
  const raked = rake && throughTie(rake, known);
  return [
    {
      what: `Toe by strings${named(toe)}`,
      formula:
        'the angle whose sine is (front − rear) over the measuring diameter, less what the string itself is off the car; toe-in positive',
      put: [
        ...parts(toe, MM, ['front of the rim', 'rear of the rim']),
        {
          name: 'measuring diameter',
          value: diameter ? valueText(MM, diameter, FINE) : NOT_KNOWN,
        },
      ],
      result: toe ? valueText(ANGLE, toe.value, FINE_ANGLE) : `${NOT_KNOWN}: no toe by strings yet`,
      source: 'Both distances by one scale: its zero falls out of the difference.',
    },
    {
      what: `Camber, gauge turned round${named(camber)}`,
      formula: '(reading − turned round) over 2',
      put: parts(camber, ANGLE, ['reading', 'turned round']),
      result: camber
        ? valueText(ANGLE, camber.value, FINE_ANGLE)
        : `${NOT_KNOWN}: no camber was read both ways yet`,
      source:
        'Turned round, the wheel reads with the other sign and the gauge’s own error with the same.',
    },
    {
      what: 'Rake',
      formula: 'the ride heights, each by its weight, and what their points stand above the floor',
      put: [
        ...(rake?.of ?? []).map(({ item, weight }) => {
          const value = known(item);
          return {
            name: `${items.get(item)?.label ?? item} × ${fixed(weight, 4)}`,
            value: value === null ? NOT_KNOWN : valueText(MM, value, FINE),
          };
        }),
        { name: 'points', value: rake ? valueText(MM, rake.plus, FINE) : NOT_KNOWN },
      ],
      result: raked ? valueText(MM, raked.value, 1e-5) : `${NOT_KNOWN}: not every height was read`,
      source: 'A plane through the points, read where the axles are.',
    },
  ];
};
