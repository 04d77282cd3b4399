import type { ReactElement } from 'react';
import { lengthShown } from '../../../core/format/quantity.ts';
import { typedLength } from '../../../core/format/typed.ts';
import type { Car } from '../../../core/sheet/car.ts';
import { newId } from '../../newId.ts';
import { Field, type Understood } from '../../parts/Field.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './OutingPanel.module.css';
import { understandName } from '../../parts/understandName.ts';

const SAVING = { doing: 'Storing the car.', done: () => 'Car stored.' } as const;
/** Lengths are kept to a tenth of a millimetre on the screen, m. */
const SCREEN_STEP = 1e-4;

const lengthText = (length: number): string => {
  const { number } = lengthShown(length, SCREEN_STEP);
  return `${number.replace(/\.0$/u, '')} mm`;
};

const lengthUpTo =
  (most: number) =>
  (text: string): Understood<number> => {
    const typed = typedLength(text);
    if (!typed.ok) return typed;
    if (!(typed.value > 0 && typed.value <= most))
      return { ok: false, why: `Above 0, at most ${lengthText(most)}.` };
    return { ok: true, value: typed.value, said: lengthText(typed.value) };
  };

/** Which car stands on the pads, and what its balance needs of it. */
export const CarFields = ({
  car,
  cars,
}: {
  readonly car: Car;
  readonly cars: readonly Car[];
}): ReactElement => {
  const { note, give } = useCommand();
  const use = (next: Car): void => void give({ do: 'use car', car: next }, SAVING);
  return (
    <section className={styles['part']}>
      <div className={styles['choose']}>
        <Pick
          label="Car"
          options={cars.map(({ id, name }) => ({ value: id, text: name }))}
          value={car.id}
          onChange={(id) => {
            const chosen = cars.find((each) => each.id === id);
            if (chosen) use(chosen);
          }}
        />
        <PushButton small onPress={() => use({ ...car, id: newId(), name: `${car.name} copy` })}>
          Copy
        </PushButton>
      </div>
      <Field
        label="Name"
        text={car.name}
        understand={understandName}
        onCommit={(name) => use({ ...car, name })}
      />
      <Field
        label="Wheelbase"
        text={lengthText(car.wheelbase)}
        inputMode="decimal"
        understand={lengthUpTo(10)}
        onCommit={(wheelbase) => use({ ...car, wheelbase })}
      />
      <Field
        label="Front track"
        text={lengthText(car.trackFront)}
        inputMode="decimal"
        understand={lengthUpTo(5)}
        onCommit={(trackFront) => use({ ...car, trackFront })}
      />
      <Field
        label="Rear track"
        text={lengthText(car.trackRear)}
        inputMode="decimal"
        understand={lengthUpTo(5)}
        onCommit={(trackRear) => use({ ...car, trackRear })}
      />
      <Field
        label="Height of the centre of gravity"
        text={car.cgHeight === null ? '' : lengthText(car.cgHeight)}
        inputMode="decimal"
        understand={(text): Understood<number | null> =>
          text.trim() === '' ? { ok: true, value: null, said: 'not measured' } : lengthUpTo(3)(text)
        }
        onCommit={(cgHeight) => use({ ...car, cgHeight })}
      />
      <NoteLine note={note} />
    </section>
  );
};
