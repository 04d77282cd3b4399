import type { ReactElement } from 'react';
import type { Targets } from '../../../core/adjust/targets.ts';
import { diagonalLabel } from '../../../core/answers/balanceAnswer.ts';
import type { Adjustment } from '../../../core/contract/adjustment.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { typedNumber } from '../../../core/format/typed.ts';
import { MM, PERCENT } from '../../../core/format/valueShown.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Field, type Understood } from '../../parts/Field.tsx';
import {
  quantityField,
  understandQuantity,
  type QuantityField,
} from '../../parts/understandQuantity.ts';
import { BeyondFields } from './BeyondFields.tsx';
import styles from './Screen.module.css';

/** What stands in a plan beside the car: targets, bars, friction. */
export type Wishes = Pick<Adjustment, 'bars' | 'friction'> & { readonly targets: Targets };

const orKeep =
  (field: QuantityField) =>
  (text: string): Understood<number | 'keep'> =>
    /^(keep|—|)$/iu.test(text.trim())
      ? { ok: true, value: 'keep', said: 'kept as it was at the start' }
      : understandQuantity(field)(text);

const aboveZero = (value: number): string | null => (value > 0 ? null : 'Above 0.');
const aShare = (value: number): string | null =>
  value > 0 && value < 1 ? null : 'Between 0 and 100 %.';
const aHeight = (value: number): string | null =>
  value > 0 && value < 1 ? null : 'Above 0, below 1000 mm.';
/** Of a strut, newton at the wheel. */
const friction = (text: string): Understood<number> => {
  const typed = typedNumber(text, 'N');
  if (!typed.ok) return typed;
  return typed.value >= 0 && typed.value <= 2000
    ? { ok: true, value: typed.value, said: typed.understood }
    : { ok: false, why: 'Newton at the wheel, from 0 to 2000.' };
};

/** What the car is to become. A height that was not measured can be kept, not reached. */
export const TargetFields = ({
  wishes,
  state,
  onChange,
}: {
  readonly wishes: Wishes;
  readonly state: BenchState;
  readonly onChange: (next: Wishes) => void;
}): ReactElement => {
  const { targets } = wishes;
  const { cross } = targets;
  const set = (change: Partial<Targets>): void =>
    onChange({ ...wishes, targets: { ...targets, ...change } });
  return (
    <section className={styles['fields']} aria-label="Targets">
      {cross ? (
        <>
          <Field
            label={`Cross ${diagonalLabel(targets.diagonal, state.settings.cornerLabels)}`}
            text={cross.target === 'keep' ? 'keep' : quantityField(PERCENT, cross.target)}
            understand={orKeep({ ...PERCENT, refuse: aShare })}
            onCommit={(target) => set({ cross: { ...cross, target } })}
          />
          <Field
            label="Cross within"
            text={quantityField(PERCENT, cross.tolerance)}
            understand={understandQuantity({ ...PERCENT, refuse: aboveZero })}
            onCommit={(tolerance) => set({ cross: { ...cross, tolerance } })}
          />
        </>
      ) : null}
      {targets.heights.map(({ point, target, tolerance }, index) => {
        const change = (next: Partial<Targets['heights'][number]>): void =>
          set({
            heights: targets.heights.map((goal, i) => (i === index ? { ...goal, ...next } : goal)),
          });
        return (
          <div key={point.name} className={styles['pair']}>
            <Field
              label={`Height, ${point.name}`}
              text={target === 'keep' ? 'keep' : quantityField(MM, target)}
              understand={orKeep({ ...MM, refuse: aHeight })}
              onCommit={(value) => change({ target: value })}
            />
            <Field
              label={`Within, ${point.name}`}
              text={quantityField(MM, tolerance)}
              understand={understandQuantity({ ...MM, refuse: aboveZero })}
              onCommit={(value) => change({ tolerance: value })}
            />
          </div>
        );
      })}
      <BeyondFields targets={targets} state={state} onChange={set} />
      <Choice
        label="Anti-roll bars"
        options={[
          { value: 'off', text: 'off' },
          { value: 'on', text: 'on' },
        ]}
        value={wishes.bars}
        onChange={(bars) => onChange({ ...wishes, bars })}
      />
      <Field
        label="Friction of a strut at the wheel"
        text={`${wishes.friction} N`}
        understand={friction}
        onCommit={(value) => onChange({ ...wishes, friction: value })}
      />
    </section>
  );
};
