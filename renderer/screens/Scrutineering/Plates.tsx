import { useState, type ReactElement } from 'react';
import type { PlateSize } from '../../../core/scrutineering/ballastProblem.ts';
import type { MassUnit } from '../../../core/units.ts';
import { newId } from '../../newId.ts';
import { Field } from '../../parts/Field.tsx';
import { keepCommand } from '../../parts/keepCommand.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import {
  quantityField,
  understandCount,
  understandQuantity,
} from '../../parts/understandQuantity.ts';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './Screen.module.css';

/** Plates of one size that anybody would enter; more is a slip. */
const MOST = 200;

/** Ballast plates that are owned: how many of each size. */
export const Plates = ({
  plates,
  massUnit,
}: {
  readonly plates: readonly PlateSize[];
  readonly massUnit: MassUnit;
}): ReactElement => {
  const { note, give } = useCommand();
  const [typed, setTyped] = useState<number | null>(null);
  const wanted = { kind: 'mass', unit: massUnit } as const;
  const understandMass = understandQuantity({
    ...wanted,
    refuse: (value) =>
      value >= 0.001 && value <= 200 ? null : 'The mass of one plate, for example 2.5 kg.',
  });
  const keep = (size: PlateSize): void =>
    void give(keepCommand({ kind: 'plates', subject: size.id, size }), {
      doing: 'Storing.',
      done: () => 'Stored.',
    });
  return (
    <section className={styles['part']} aria-label="Plates">
      <h2>Plates owned</h2>
      <ul className={styles['limits']}>
        {plates.map((size) => (
          <li key={size.id}>
            <strong>{size.name}</strong>
            <Field
              label="How many"
              text={String(size.count)}
              inputMode="decimal"
              understand={understandCount(MOST)}
              onCommit={(count) => keep({ ...size, count })}
            />
          </li>
        ))}
      </ul>
      <footer className={styles['actions']}>
        <NoteLine
          note={note}
          otherwise={plates.length === 0 ? 'None yet: add the first size.' : ''}
        />
        <Field
          label="Mass of another size"
          text={quantityField(wanted, typed)}
          inputMode="decimal"
          understand={understandMass}
          onCommit={setTyped}
        />
        <PushButton
          isDisabled={typed === null || plates.some(({ mass }) => Math.abs(mass - typed) < 5e-4)}
          onPress={() => {
            if (typed === null) return;
            keep({ id: newId(), name: quantityField(wanted, typed), mass: typed, count: 1 });
            setTyped(null);
          }}
        >
          Add a size
        </PushButton>
      </footer>
    </section>
  );
};
