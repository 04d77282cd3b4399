import type { ReactElement } from 'react';
import type { Goal, Targets } from '../../../core/adjust/targets.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { CORNERS, cornerLabel } from '../../../core/corners.ts';
import { PERCENT } from '../../../core/format/valueShown.ts';
import { Field } from '../../parts/Field.tsx';
import { quantityField, understandOrNone } from '../../parts/understandQuantity.ts';
import styles from './Screen.module.css';

/** Where no sheet says how near is good: kg, and a share; common practice, no source. */
const MASS_WITHIN = 1;
const SHARE_WITHIN = 0.002;

/** What may be wanted besides: weights at corners, and what turns cannot change, so that it is said. */
export const BeyondFields = ({
  targets,
  state,
  onChange,
}: {
  readonly targets: Targets;
  readonly state: BenchState;
  readonly onChange: (change: Partial<Targets>) => void;
}): ReactElement => {
  const { massUnit, cornerLabels } = state.settings;
  const mass = { kind: 'mass', unit: massUnit } as const;
  const aMass = {
    ...mass,
    none: 'nothing wanted',
    refuse: (value: number) => (value > 0 && value < 10_000 ? null : 'Above 0.'),
  };
  const aShare = {
    ...PERCENT,
    none: 'nothing wanted',
    refuse: (value: number) => (value > 0 && value < 1 ? null : 'Between 0 and 100 %.'),
  };
  const goal = (target: number | null, before: Goal | null, within: number): Goal | null =>
    target === null ? null : { target, tolerance: before?.tolerance ?? within };
  return (
    <div className={styles['four']}>
      {CORNERS.map((corner) => (
        <Field
          key={corner}
          label={`Weight ${cornerLabel(corner, cornerLabels)}`}
          text={quantityField(mass, targets.cornerWeights[corner]?.target ?? null)}
          understand={understandOrNone(aMass)}
          onCommit={(target) =>
            onChange({
              cornerWeights: {
                ...targets.cornerWeights,
                [corner]: goal(target, targets.cornerWeights[corner], MASS_WITHIN),
              },
            })
          }
        />
      ))}
      <Field
        label="Total"
        text={quantityField(mass, targets.total?.target ?? null)}
        understand={understandOrNone(aMass)}
        onCommit={(target) => onChange({ total: goal(target, targets.total, MASS_WITHIN) })}
      />
      <Field
        label="Front"
        text={quantityField(PERCENT, targets.frontShare?.target ?? null)}
        understand={understandOrNone(aShare)}
        onCommit={(target) =>
          onChange({ frontShare: goal(target, targets.frontShare, SHARE_WITHIN) })
        }
      />
      <Field
        label="Left"
        text={quantityField(PERCENT, targets.leftShare?.target ?? null)}
        understand={understandOrNone(aShare)}
        onCommit={(target) =>
          onChange({ leftShare: goal(target, targets.leftShare, SHARE_WITHIN) })
        }
      />
    </div>
  );
};
