import type { ReactElement } from 'react';
import {
  CORNERS,
  cornerLabel,
  perCorner,
  type CornerLabelStyle,
  type PerCorner,
} from '../../core/corners.ts';
import { MM } from '../../core/format/valueShown.ts';
import type { Car } from '../../core/sheet/car.ts';
import { adjusterSchema, type CarAdjuster } from '../../core/sheet/carDetails.ts';
import styles from './AdjusterFields.module.css';
import { Choice } from './Choice.tsx';
import { Field, type Understood } from './Field.tsx';
import { Pick } from './Pick.tsx';
import { PushButton } from './PushButton.tsx';
import {
  quantityField,
  understandCount,
  understandOrNone,
  understandQuantity,
} from './understandQuantity.ts';

const NUMBER = { kind: 'number', unit: null } as const;
const MOST_STEPS = 400;

const understandThread = understandQuantity({
  ...MM,
  refuse: (value) => (value > 0 && value <= 0.02 ? null : 'Above 0, at most 20 mm.'),
});
const understandRatio = understandOrNone({
  ...NUMBER,
  none: 'the motion ratio of the corner',
  refuse: (value) => (value > 0 && value <= 5 ? null : 'Above 0, at most 5.'),
});
const understandSteps = (text: string): Understood<number> => {
  const count = understandCount(MOST_STEPS)(text);
  return count.ok && count.value === 0 ? { ok: false, why: 'At least 1.' } : count;
};

type Room = CarAdjuster['room'];
const roomText = (room: Room): string => (room ? `${room.up} / ${room.down}` : '—');
const understandRoom = (text: string): Understood<Room> => {
  if (text.trim() === '' || text.trim() === '—')
    return { ok: true, value: null, said: 'not known' };
  const typed = /^\s*(\d{1,4})\s*\/\s*(\d{1,4})\s*$/u.exec(text);
  if (!typed) return { ok: false, why: 'Steps left up and down, for example 12 / 8.' };
  const [up, down] = [Number(typed[1]), Number(typed[2])];
  return { ok: true, value: { up, down }, said: `${up} up, ${down} down` };
};

/** What is begun with where nothing is known: whole turns of the car's perch thread, raised for it. */
const first = (perchPitch: number): CarAdjuster => ({
  kind: 'perch',
  pitches: [perchPitch],
  motionRatio: null,
  stepsPerTurn: 1,
  countedIn: 'turns',
  underLoad: false,
  room: null,
});

const OneAdjuster = ({
  adjuster,
  set,
}: {
  readonly adjuster: CarAdjuster;
  readonly set: (changes: Partial<CarAdjuster>) => void;
}): ReactElement => {
  const [thread = 0, second = null] = adjuster.pitches;
  return (
    <>
      <Pick
        label="Kind"
        options={adjusterSchema.shape.kind.options.map((value) => ({ value, text: value }))}
        value={adjuster.kind}
        onChange={(kind) =>
          set(
            kind === 'shims'
              ? { kind, countedIn: 'shims', stepsPerTurn: 1, pitches: [thread] }
              : kind === 'push-rod'
                ? { kind, pitches: [thread, second ?? thread] }
                : { kind, pitches: [thread] },
          )
        }
      />
      <Field
        label={adjuster.kind === 'shims' ? 'Thickness of a shim' : 'Thread, a turn'}
        text={quantityField(MM, thread)}
        inputMode="decimal"
        understand={understandThread}
        onCommit={(value) => set({ pitches: second === null ? [value] : [value, second] })}
      />
      {second === null ? null : (
        <Field
          label="Second thread, a turn"
          text={quantityField(MM, second)}
          inputMode="decimal"
          understand={understandThread}
          onCommit={(value) => set({ pitches: [thread, value] })}
        />
      )}
      {adjuster.kind === 'shims' ? null : (
        <>
          <Pick
            label="Counted in"
            options={adjusterSchema.shape.countedIn.options.map((value) => ({
              value,
              text: value,
            }))}
            value={adjuster.countedIn}
            onChange={(countedIn) => set({ countedIn })}
          />
          <Field
            label="Steps in a turn"
            text={String(adjuster.stepsPerTurn)}
            inputMode="decimal"
            understand={understandSteps}
            // Steps left were counted in the steps before.
            onCommit={(stepsPerTurn) => set({ stepsPerTurn, room: null })}
          />
        </>
      )}
      <Field
        label="Travel over wheel travel"
        text={quantityField(NUMBER, adjuster.motionRatio)}
        inputMode="decimal"
        understand={understandRatio}
        onCommit={(motionRatio) => set({ motionRatio })}
      />
      <Field
        label="Steps left, up / down"
        text={roomText(adjuster.room)}
        understand={understandRoom}
        onCommit={(room) => set({ room })}
      />
      <Choice
        label="Turned with the car on it"
        options={[
          { value: 'no', text: 'no, raise first' },
          { value: 'yes', text: 'yes' },
        ]}
        value={adjuster.underLoad ? 'yes' : 'no'}
        onChange={(value) => set({ underLoad: value === 'yes' })}
      />
    </>
  );
};

/** What sets the height of each corner, as it is kept with the car. */
export const AdjusterFields = ({
  adjusters,
  perchPitch,
  labels,
  onChange,
}: {
  readonly adjusters: PerCorner<CarAdjuster | null>;
  readonly perchPitch: Car['perchPitch'];
  readonly labels: CornerLabelStyle;
  readonly onChange: (adjusters: PerCorner<CarAdjuster | null>) => void;
}): ReactElement => (
  <div className={styles['cards']}>
    {CORNERS.map((corner) => {
      const label = cornerLabel(corner, labels);
      const adjuster = adjusters[corner];
      const keep = (next: CarAdjuster): void => onChange({ ...adjusters, [corner]: next });
      return (
        <div key={corner} className={styles['card']} role="group" aria-label={`${label} adjuster`}>
          <h3>{label}</h3>
          {adjuster ? (
            <>
              <OneAdjuster
                adjuster={adjuster}
                set={(changes) => keep({ ...adjuster, ...changes })}
              />
              <PushButton small onPress={() => onChange(perCorner(() => adjuster))}>
                The same at all four
              </PushButton>
            </>
          ) : (
            <>
              <p className={styles['unknown']}>Not known.</p>
              <PushButton small onPress={() => keep(first(perchPitch))}>
                Describe it
              </PushButton>
            </>
          )}
        </div>
      );
    })}
  </div>
);
