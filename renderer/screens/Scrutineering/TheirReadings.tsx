import { useMemo, useState, type ReactElement } from 'react';
import { changeText, type Wanted } from '../../../core/format/valueShown.ts';
import { firstUnit, unitOf } from '../../../core/format/unitTable.ts';
import { knownOf } from '../../../core/scrutineering/limitedItems.ts';
import { theirReading } from '../../../core/scrutineering/prediction.ts';
import { quantityOf, quantityWords } from '../../../core/scrutineering/quantity.ts';
import { offsetInWords } from '../../../core/scrutineering/offsetInWords.ts';
import type { Offset } from '../../../core/scrutineering/offset.ts';
import { Pick } from '../../parts/Pick.tsx';
import { quantityField } from '../../parts/understandQuantity.ts';
import { useSize } from '../../parts/useSize.ts';
import { DifferencePlot } from '../../plot/DifferencePlot.tsx';
import { AddPair } from './AddPair.tsx';
import { EquipmentFields } from './EquipmentFields.tsx';
import { MustRead } from './MustRead.tsx';
import { PairTable } from './PairTable.tsx';
import styles from './Screen.module.css';
import type { Scrutineering } from './useScrutineering.ts';
import { wantedOf } from '../../../core/format/wantedOf.ts';

const Chart = ({
  found,
  wanted,
  wished,
}: {
  readonly found: Offset;
  readonly wanted: Wanted;
  readonly wished: number;
}): ReactElement => {
  const [element, size] = useSize<HTMLDivElement>();
  const { inSi } =
    (wanted.unit === null ? null : unitOf(wanted.kind, wanted.unit)) ?? firstUnit(wanted.kind);
  const events = [...Map.groupBy(found.used, ({ pair }) => pair.event).entries()];
  const next = theirReading(found.prediction, 0, wished);
  return (
    <figure className={styles['figure']}>
      <div
        ref={element}
        className={styles['chart']}
        role="img"
        aria-label={`Differences of ${found.used.length} pairs over ${events.length} events`}
      >
        {size ? (
          <DifferencePlot
            events={events.map(([name, used], index) => ({
              name,
              mean: (found.scatter.means[index] ?? 0) / inSi,
              differences: used.map(({ difference, outlier }) => ({
                value: difference / inSi,
                isOutlier: outlier !== null,
              })),
            }))}
            next={{ low: next.low / inSi, high: next.high / inSi, value: next.value / inSi }}
            label={(value) => changeText(wanted, value * inSi)}
            width={size.width}
            height={size.height}
          />
        ) : null}
      </div>
      <figcaption>
        Theirs less ours: dots are pairs, bars the means of events, triangles stand out and are
        counted all the same. The band holds the next one with{' '}
        {quantityField({ kind: 'share', unit: null }, wished)}.
      </figcaption>
    </figure>
  );
};

/** Pairs of readings of one quantity, what they tell, and what is stated beside them. */
export const TheirReadings = ({ own }: { readonly own: Scrutineering }): ReactElement => {
  const { sources, chosen, pairs, items: board } = own;
  const [wishedFor, setQuantity] = useState<string | null>(null);
  const all = useMemo(
    () => [...new Set([...sources.items.keys()].map(quantityOf))],
    [sources.items],
  );
  const quantity =
    wishedFor ?? (board[0]?.item ? quantityOf(board[0].item.id) : (all[0] ?? 'total'));
  const ofQuantity = [...sources.items.values()].filter(({ id }) => quantityOf(id) === quantity);
  // The item with a limit, if any, stands for the quantity.
  const limited = board.filter(({ item }) => item && quantityOf(item.id) === quantity);
  const item = limited[0]?.item ?? ofQuantity[0] ?? null;
  if (!chosen || !item)
    return (
      <p className={styles['empty']}>
        Here stand pairs of readings: what we read and what they read of the same car. Add the
        scrutineers above first.
      </p>
    );
  const wanted = wantedOf(item, own.state.settings.massUnit);
  const known = knownOf(item, sources.ourReading(item), sources);
  const here = pairs.filter(({ pair }) => quantityOf(pair.item) === quantity);
  return (
    <div className={styles['readings']}>
      <section className={styles['part']} aria-label="What is known of their readings">
        <div className={styles['fields']}>
          <Pick
            label="Quantity"
            options={all.map((value) => ({
              value,
              text: quantityWords(value, sources.items),
            }))}
            value={quantity}
            onChange={setQuantity}
          />
        </div>
        {known ? (
          <ul className={styles['sentences']}>
            {offsetInWords(known, wanted, own.wished).map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        ) : null}
        {known?.offset.ok ? (
          <Chart found={known.offset} wanted={wanted} wished={own.wished} />
        ) : null}
        <MustRead own={own} limited={limited} />
      </section>
      <EquipmentFields own={own} quantity={quantity} wanted={wanted} />
      {known && here.length > 0 ? (
        <PairTable own={own} pairs={here} known={known} wanted={wanted} />
      ) : null}
      <AddPair key={quantity} own={own} items={ofQuantity} />
    </div>
  );
};
