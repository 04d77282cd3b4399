import { useState, type ReactElement } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import { fixed } from '../../../core/format/number.ts';
import { typedMass } from '../../../core/format/typed.ts';
import {
  MASS_CLASSES,
  type MassBasis,
  type MassSet,
  type ReferenceMass,
} from '../../../core/sheet/massSet.ts';
import { massIn, type MassUnit } from '../../../core/units.ts';
import { newId } from '../../newId.ts';
import { Field, type Understood } from '../../parts/Field.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { understandName } from '../../parts/understandName.ts';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './Calibrate.module.css';

type BasisPick = (typeof MASS_CLASSES)[number] | 'certificate' | 'tolerance' | 'number only';

const BASES: readonly { readonly value: BasisPick; readonly text: string }[] = [
  ...MASS_CLASSES.map((value) => ({ value, text: `class ${value} (OIML R 111)` })),
  { value: 'certificate', text: 'certificate' },
  { value: 'tolerance', text: 'tolerance' },
  { value: 'number only', text: 'only the number on it' },
];
const basisPick = (basis: MassBasis): BasisPick => (basis.is === 'class' ? basis.class : basis.is);

/** A thousandth of it: a value to be typed over. */
const FIRST_GUESS = 1e-3;

const basisOf = (pick: BasisPick, mass: number): MassBasis => {
  if (pick === 'certificate')
    return { is: 'certificate', value: mass, expanded: FIRST_GUESS * mass, coverageFactor: 2 };
  if (pick === 'tolerance') return { is: 'tolerance', halfWidth: FIRST_GUESS * mass };
  return pick === 'number only' ? { is: 'number only' } : { is: 'class', class: pick };
};

const understandMass =
  (unit: MassUnit) =>
  (text: string): Understood<number> => {
    const typed = typedMass(text, unit);
    if (!typed.ok) return typed;
    return typed.value > 0 && typed.value <= 2000
      ? { ok: true, value: typed.value, said: typed.understood }
      : { ok: false, why: 'A mass above nothing, for example 20 kg.' };
  };

const gram = (kg: number): string => `${fixed(1000 * kg, 3)} g`;
const understandGram = (text: string): Understood<number> => {
  const typed = typedMass(text.replace(/\s*g$/iu, ''), 'kg');
  if (!typed.ok) return { ok: false, why: 'Grams, for example 1.5.' };
  return typed.value >= 0
    ? { ok: true, value: typed.value / 1000, said: gram(typed.value / 1000) }
    : { ok: false, why: 'Not below zero.' };
};

const MassFields = ({
  mass,
  onChange,
  onRemove,
}: {
  readonly mass: ReferenceMass;
  readonly onChange: (mass: ReferenceMass) => void;
  readonly onRemove: () => void;
}): ReactElement => {
  const { nominal, basis } = mass;
  return (
    <li className={styles['mass']}>
      <Field
        label="Called"
        text={mass.label}
        understand={understandName}
        onCommit={(label) => onChange({ ...mass, label: label.slice(0, 40) })}
      />
      <Field
        label="Number on it"
        text={`${String(nominal.value)} ${nominal.unit}`}
        inputMode="decimal"
        understand={understandMass(nominal.unit)}
        onCommit={(kg) =>
          onChange({ ...mass, nominal: { ...nominal, value: massIn(nominal.unit, kg) } })
        }
      />
      <Pick
        label="Known by"
        options={BASES}
        value={basisPick(basis)}
        onChange={(pick) => onChange({ ...mass, basis: basisOf(pick, nominal.value) })}
      />
      {basis.is === 'certificate' ? (
        <>
          <Field
            label="True value"
            text={`${fixed(basis.value, 6)} kg`}
            inputMode="decimal"
            understand={understandMass('kg')}
            onCommit={(value) => onChange({ ...mass, basis: { ...basis, value } })}
          />
          <Field
            label="Uncertainty, k = 2"
            text={gram(basis.expanded)}
            inputMode="decimal"
            understand={understandGram}
            onCommit={(expanded) =>
              onChange({ ...mass, basis: { ...basis, expanded, coverageFactor: 2 } })
            }
          />
        </>
      ) : null}
      {basis.is === 'tolerance' ? (
        <Field
          label="Within ±"
          text={gram(basis.halfWidth)}
          inputMode="decimal"
          understand={understandGram}
          onCommit={(halfWidth) => onChange({ ...mass, basis: { is: 'tolerance', halfWidth } })}
        />
      ) : null}
      <PushButton small look="quiet" onPress={onRemove}>
        Take out
      </PushButton>
    </li>
  );
};

/** The sets of reference masses: made, changed, copied, set aside. */
export const MassSets = ({ state }: { readonly state: BenchState }): ReactElement => {
  const { note, give } = useCommand();
  const [openId, setOpen] = useState<string | null>(null);
  const unit = state.settings.massUnit;
  const set = state.massSets.find(({ id }) => id === openId) ?? null;
  const keep = (next: MassSet, isAside = false): void =>
    void give(
      { do: 'keep mass set', set: next, isAside },
      { doing: 'Storing.', done: () => (isAside ? `${next.name} is set aside.` : 'Stored.') },
    );
  const fresh = (): ReferenceMass => ({
    id: newId(),
    label: `${unit === 'kg' ? 20 : 50} ${unit}`,
    nominal: { value: unit === 'kg' ? 20 : 50, unit },
    basis: { is: 'class', class: 'M1' },
  });
  const add = (): void => {
    const made = { id: newId(), name: 'New set', masses: [fresh()] };
    keep(made);
    setOpen(made.id);
  };
  return (
    <section className={styles['part']} aria-label="Sets of masses">
      <h2>Sets of masses</h2>
      <ul className={styles['list']}>
        {state.massSets.map((each) => (
          <li key={each.id} className={styles['row']}>
            <span>
              <strong>{each.name}</strong>, {each.masses.length} masses
            </span>
            <PushButton small onPress={() => setOpen(openId === each.id ? null : each.id)}>
              {openId === each.id ? 'Close' : 'Open'}
            </PushButton>
          </li>
        ))}
      </ul>
      {set ? (
        <div className={styles['set']}>
          <Field
            label="Name"
            text={set.name}
            understand={understandName}
            onCommit={(name) => keep({ ...set, name })}
          />
          <ul className={styles['masses']}>
            {set.masses.map((mass) => (
              <MassFields
                key={mass.id}
                mass={mass}
                onChange={(next) =>
                  keep({
                    ...set,
                    masses: set.masses.map((each) => (each.id === next.id ? next : each)),
                  })
                }
                onRemove={() =>
                  set.masses.length > 1
                    ? keep({ ...set, masses: set.masses.filter(({ id }) => id !== mass.id) })
                    : keep(set, true)
                }
              />
            ))}
          </ul>
          <div className={styles['row']}>
            <PushButton small onPress={() => keep({ ...set, masses: [...set.masses, fresh()] })}>
              Add a mass
            </PushButton>
            <PushButton
              small
              onPress={() => keep({ ...set, id: newId(), name: `${set.name} copy` })}
            >
              Copy
            </PushButton>
            <PushButton small look="quiet" onPress={() => keep(set, true)}>
              Set aside
            </PushButton>
          </div>
        </div>
      ) : null}
      <footer className={styles['actions']}>
        <NoteLine note={note} />
        <PushButton onPress={add}>Add a set</PushButton>
      </footer>
    </section>
  );
};
