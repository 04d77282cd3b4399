import { useMemo, useState, type ReactElement } from 'react';
import type { KeptOf } from '../../../core/contract/kept.ts';
import { QUANTITY_KINDS, type QuantityKind } from '../../../core/format/unitTable.ts';
import type { Gauge } from '../../../core/sheet/carRecord.ts';
import { gaugesFor } from '../../../core/sheet/gaugesKnown.ts';
import { useTold } from '../../live/useTold.ts';
import { newId } from '../../newId.ts';
import { keepCommand } from '../../parts/keepCommand.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick as PickOne } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { quantityField } from '../../parts/understandQuantity.ts';
import { useCommand } from '../../parts/useCommand.ts';
import { GaugeForm } from '../Measure/GaugeFields.tsx';
import type { PartProps } from './CarsAndVenues.tsx';
import { OwnedTable } from './OwnedTable.tsx';
import styles from './Screen.module.css';

const stepOf = ({ quantity, resolution }: Gauge): string =>
  `${quantity}, steps of ${quantityField({ kind: quantity, unit: null }, resolution)}`;

/** What hand readings are taken with: described, copied, set aside and taken back. */
export const Gauges = ({
  kept,
  usesOf,
}: Pick<PartProps, 'usesOf'> & { readonly kept: readonly KeptOf<'gauge'>[] }): ReactElement => {
  const { note, give } = useCommand();
  const [openId, setOpen] = useState<string | null>(null);
  const [quantity, setQuantity] = useState<QuantityKind>('length');
  // What was told stands until it is read back: a second field builds on the first.
  const { all, tell, takeBack } = useTold(
    useMemo(
      () =>
        [...new Map(kept.map((each) => [each.subject, each])).values()].map(
          ({ subject, gauge, isAside }) => ({ id: subject, gauge, isAside }),
        ),
      [kept],
    ),
  );
  const open = all.find(({ id, isAside }) => id === openId && !isAside) ?? null;
  const keep = (gauge: Gauge, isAside = false): void => {
    tell({ id: gauge.id, gauge, isAside });
    void give(keepCommand({ kind: 'gauge', subject: gauge.id, gauge, isAside }), {
      doing: 'Storing.',
      done: () => (isAside ? `${gauge.name} is set aside.` : 'Stored.'),
    }).then((result) => {
      if (!result) takeBack(gauge.id);
    });
  };
  const add = (gauge: Gauge, name: string): void => {
    const made = { ...gauge, id: newId(), name: name.slice(0, 60) };
    keep(made);
    setOpen(made.id);
  };
  const [usual] = gaugesFor(quantity, []);
  return (
    <>
      <OwnedTable
        label="Gauges"
        what="gauge"
        none="None described yet. Readings are taken with what any garage has, of which only the step is known."
        rows={all.map(({ id, gauge, isAside }) => ({
          id,
          name: gauge.name,
          about: `${stepOf(gauge)}${isAside ? ', set aside' : ''}`,
          uses: usesOf({ is: 'gauge', id }),
          does: isAside
            ? [{ text: 'Take back', onPress: () => keep(gauge) }]
            : [
                id === openId
                  ? { text: 'Close', onPress: () => setOpen(null) }
                  : { text: 'Describe', onPress: () => setOpen(id) },
                { text: 'Copy', onPress: () => add(gauge, `${gauge.name.slice(0, 55)} copy`) },
              ],
        }))}
      />
      {open ? (
        <GaugeForm
          key={open.id}
          gauge={open.gauge}
          onChange={(gauge) => keep(gauge)}
          onAside={() => keep(open.gauge, true)}
        />
      ) : null}
      <footer className={styles['actions']}>
        <NoteLine note={note} />
        <PickOne
          label="It reads"
          options={QUANTITY_KINDS.map((value) => ({ value, text: value }))}
          value={quantity}
          onChange={setQuantity}
        />
        <PushButton
          isDisabled={usual === undefined}
          onPress={() => {
            if (usual) add(usual, 'New gauge');
          }}
        >
          Add a gauge
        </PushButton>
      </footer>
    </>
  );
};
