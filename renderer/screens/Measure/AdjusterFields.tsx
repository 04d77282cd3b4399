import type { ReactElement } from 'react';
import { CORNERS, cornerLabel, type Corner } from '../../../core/corners.ts';
import { adjusterSchema, type CarAdjuster } from '../../../core/sheet/carDetails.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Field } from '../../parts/Field.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import {
  quantityField,
  understandCount,
  understandOrNone,
  understandQuantity,
} from '../../parts/understandQuantity.ts';
import type { DetailsProps } from './CarPart.tsx';
import { LENGTH, upTo } from './lengths.ts';
import styles from './Screen.module.css';

const NUMBER = { kind: 'number', unit: null } as const;
const FIRST: CarAdjuster = {
  kind: 'perch',
  pitches: [0.0015],
  motionRatio: null,
  stepsPerTurn: 1,
  countedIn: 'turns',
  underLoad: false,
  room: null,
};

/** What sets the height of each corner. */
export const AdjusterFields = ({ measure, details, change }: DetailsProps): ReactElement => {
  const { adjusters } = details;
  const keep = (corner: Corner, adjuster: CarAdjuster | null): void =>
    change({ adjusters: { ...adjusters, [corner]: adjuster } });
  return (
    <section className={styles['part']} aria-label="Adjusters">
      <h2>Height adjusters</h2>
      <div className={styles['cards']}>
        {CORNERS.map((corner) => {
          const label = cornerLabel(corner, measure.state.settings.cornerLabels);
          const adjuster = adjusters[corner];
          if (!adjuster)
            return (
              <div
                key={corner}
                className={styles['card']}
                role="group"
                aria-label={`${label} adjuster`}
              >
                <h3>{label}</h3>
                <p className={styles['help']}>Not known.</p>
                <PushButton
                  small
                  onPress={() => keep(corner, { ...FIRST, pitches: [measure.car.perchPitch] })}
                >
                  Describe it
                </PushButton>
              </div>
            );
          const set = (changes: Partial<CarAdjuster>): void =>
            keep(corner, { ...adjuster, ...changes });
          const [first = 0.0015, second = null] = adjuster.pitches;
          return (
            <div
              key={corner}
              className={styles['card']}
              role="group"
              aria-label={`${label} adjuster`}
            >
              <h3>{label}</h3>
              <Pick
                label="Kind"
                options={adjusterSchema.shape.kind.options.map((value) => ({ value, text: value }))}
                value={adjuster.kind}
                onChange={(kind) =>
                  set(
                    kind === 'shims'
                      ? { kind, countedIn: 'shims', stepsPerTurn: 1, pitches: [first] }
                      : kind === 'push-rod'
                        ? { kind, pitches: [first, second ?? first] }
                        : { kind, pitches: [first] },
                  )
                }
              />
              <Field
                label={adjuster.kind === 'shims' ? 'Thickness of a shim' : 'Thread, a turn'}
                text={quantityField(LENGTH, first)}
                inputMode="decimal"
                understand={understandQuantity({ ...LENGTH, refuse: upTo(0.02) })}
                onCommit={(value) => set({ pitches: second === null ? [value] : [value, second] })}
              />
              {second === null ? null : (
                <Field
                  label="Second thread, a turn"
                  text={quantityField(LENGTH, second)}
                  inputMode="decimal"
                  understand={understandQuantity({ ...LENGTH, refuse: upTo(0.02) })}
                  onCommit={(value) => set({ pitches: [first, value] })}
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
                    understand={understandCount(400)}
                    onCommit={(steps) => set({ stepsPerTurn: Math.max(1, steps) })}
                  />
                </>
              )}
              <Field
                label="Travel over wheel travel"
                text={quantityField(NUMBER, adjuster.motionRatio)}
                inputMode="decimal"
                understand={understandOrNone({
                  ...NUMBER,
                  none: 'the motion ratio of the corner',
                  refuse: (value) => (value > 0 && value <= 5 ? null : 'Above 0, at most 5.'),
                })}
                onCommit={(motionRatio) => set({ motionRatio })}
              />
              <Field
                label="Steps left up"
                text={String(adjuster.room?.up ?? 0)}
                inputMode="decimal"
                understand={understandCount(1000)}
                onCommit={(up) => set({ room: { down: 0, ...adjuster.room, up } })}
              />
              <Field
                label="Steps left down"
                text={String(adjuster.room?.down ?? 0)}
                inputMode="decimal"
                understand={understandCount(1000)}
                onCommit={(down) => set({ room: { up: 0, ...adjuster.room, down } })}
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
            </div>
          );
        })}
      </div>
    </section>
  );
};
