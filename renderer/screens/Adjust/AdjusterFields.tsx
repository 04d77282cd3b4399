import { useEffect, useRef, type ReactElement } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import { CORNERS, CORNER_NAMES, perCorner, type Corner } from '../../../core/corners.ts';
import { fixed } from '../../../core/format/number.ts';
import { typedNumber } from '../../../core/format/typed.ts';
import { BLANK_CAR_DETAILS } from '../../../core/sheet/blankCarDetails.ts';
import type { Car } from '../../../core/sheet/car.ts';
import type { CarAdjuster } from '../../../core/sheet/carDetails.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Field, type Understood } from '../../parts/Field.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import {
  quantityField,
  understandCount,
  understandQuantity,
} from '../../parts/understandQuantity.ts';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './Screen.module.css';

const MM = { kind: 'length', unit: 'mm' } as const;
const RATE = { kind: 'rate', unit: 'N/mm' } as const;
const SAVING = { doing: 'Storing the car.', done: () => 'Car stored.' } as const;
/** What a corner without adjuster begins with: half turns, raised for it. */
const firstPerch = (car: Car): CarAdjuster => ({
  kind: 'perch',
  pitches: [car.perchPitch],
  motionRatio: null,
  stepsPerTurn: 2,
  countedIn: 'turns',
  underLoad: false,
  room: null,
});

const ratio = (text: string): Understood<number> => {
  const typed = typedNumber(text, '');
  if (!typed.ok) return typed;
  return typed.value > 0 && typed.value <= 5
    ? { ok: true, value: typed.value, said: String(typed.value) }
    : { ok: false, why: 'Adjuster travel over wheel travel: above 0, at most 5.' };
};

/** What turns need of the car: threads, motion ratios, wheel rates, and how they can be turned. */
export const AdjusterFields = ({ state }: { readonly state: BenchState }): ReactElement => {
  const { note, give } = useCommand();
  // The next change builds on the last one told, though the bench has not said it back yet.
  const told = useRef(state.car);
  const waiting = useRef(0);
  useEffect(() => {
    if (waiting.current === 0) told.current = state.car;
  }, [state.car]);
  const { car } = state;
  const details = car.details ?? BLANK_CAR_DETAILS;
  const store = (of: (last: Car) => Car): void => {
    told.current = of(told.current);
    waiting.current += 1;
    void give({ do: 'use car', car: told.current }, SAVING).finally(() => {
      waiting.current -= 1;
    });
  };
  const put = (of: (corner: Corner, last: CarAdjuster | null) => CarAdjuster | null): void =>
    store((last) => {
      const before = last.details ?? BLANK_CAR_DETAILS;
      return {
        ...last,
        details: {
          ...before,
          adjusters: perCorner((corner) => of(corner, before.adjusters[corner])),
        },
      };
    });
  const change = (corner: Corner, next: Partial<CarAdjuster>): void =>
    put((each, last) => (last && each === corner ? { ...last, ...next } : last));
  const all = (next: Partial<CarAdjuster>): void => put((_, last) => last && { ...last, ...next });
  const first = CORNERS.map((corner) => details.adjusters[corner]).find((each) => each !== null);
  return (
    <section className={styles['fields']} aria-label="The car’s adjusters">
      {first ? (
        <>
          <Choice
            label="Perches are turned"
            options={[
              { value: 'under load', text: 'on the pads' },
              { value: 'raised', text: 'car raised' },
            ]}
            value={first.underLoad ? 'under load' : 'raised'}
            onChange={(how) => all({ underLoad: how === 'under load' })}
          />
          <Field
            label="Steps in one turn"
            text={String(first.stepsPerTurn)}
            inputMode="decimal"
            understand={(text) => {
              const count = understandCount(400)(text);
              return count.ok && count.value === 0 ? { ok: false, why: 'At least 1.' } : count;
            }}
            onCommit={(stepsPerTurn) => all({ stepsPerTurn, room: null })}
          />
        </>
      ) : null}
      {CORNERS.map((corner) => {
        const adjuster = details.adjusters[corner];
        const name = CORNER_NAMES[corner];
        if (!adjuster)
          return (
            <PushButton
              key={corner}
              small
              onPress={() => put((c, last) => (c === corner ? firstPerch(car) : last))}
            >
              Perch at the {name}
            </PushButton>
          );
        return (
          <div key={corner} className={styles['three']}>
            <Field
              label={`Thread pitch, ${name}`}
              text={quantityField({ ...MM }, adjuster.pitches[0] ?? null)}
              understand={understandQuantity({
                ...MM,
                refuse: (value) => (value > 0 && value <= 0.02 ? null : 'Above 0, at most 20 mm.'),
              })}
              onCommit={(pitch) =>
                change(corner, { pitches: [pitch, ...adjuster.pitches.slice(1)] })
              }
            />
            <Field
              label={`Motion ratio, ${name}`}
              text={fixed(adjuster.motionRatio ?? car.motionRatios[corner], 3)}
              inputMode="decimal"
              understand={ratio}
              onCommit={(motionRatio) => change(corner, { motionRatio })}
            />
            <Field
              label={`Wheel rate, ${name}`}
              text={quantityField(RATE, car.wheelRates[corner])}
              understand={understandQuantity({
                ...RATE,
                refuse: (value) => (value > 0 ? null : 'Above 0.'),
              })}
              onCommit={(rate) =>
                store((last) => ({ ...last, wheelRates: { ...last.wheelRates, [corner]: rate } }))
              }
            />
          </div>
        );
      })}
      <NoteLine note={note} />
    </section>
  );
};
