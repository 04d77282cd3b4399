import { useState, type ReactElement } from 'react';
import { changeText } from '../../../core/format/valueShown.ts';
import { ballastOutcome } from '../../../core/scrutineering/ballastOutcome.ts';
import type { BallastPlan } from '../../../core/scrutineering/ballastPlan.ts';
import { massChanges, type OtherMasses } from '../../../core/scrutineering/ballastQuestion.ts';
import { Field } from '../../parts/Field.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { quantityField, understandQuantity } from '../../parts/understandQuantity.ts';
import { OutcomeCells, OutcomeHeads, type PlanAbout } from './PlanTable.tsx';
import styles from './Screen.module.css';

/** Asked first, kg; typed over by those who know better. No source. */
const FIRST: OtherMasses = { seat: 5, fuel: -5, wear: -2 };
const NONE: OtherMasses = { seat: 0, fuel: 0, wear: 0 };
const NAMES: Readonly<Record<keyof OtherMasses, string>> = {
  seat: 'Driver',
  fuel: 'Fuel',
  wear: 'Tyres and brakes worn',
};
const KEYS = ['seat', 'fuel', 'wear'] as const;
const MOST = 200;

/** What changes if driver, fuel or wear at the finish differ from what was planned for. */
export const WhatIf = ({
  about,
  plan,
}: {
  readonly about: PlanAbout;
  readonly plan: BallastPlan;
}): ReactElement => {
  const [other, setOther] = useState(FIRST);
  const { problem, massUnit } = about;
  const wanted = { kind: 'mass', unit: massUnit } as const;
  const change = (masses: OtherMasses) => massChanges(problem.car, problem.loads, masses);
  const rows = [
    ...KEYS.filter((key) => other[key] !== 0).map((key) => ({
      name: `${NAMES[key]} ${changeText(wanted, other[key])}`,
      ...change({ ...NONE, [key]: other[key] }),
    })),
    { name: 'All together', ...change(other) },
  ];
  return (
    <div className={styles['whatIf']} role="group" aria-label="If it differs">
      <h3>If it differs</h3>
      <div className={styles['fields']}>
        {KEYS.map((key) => (
          <Field
            key={key}
            label={`${NAMES[key]} by`}
            text={quantityField(wanted, other[key])}
            inputMode="decimal"
            understand={understandQuantity({
              ...wanted,
              refuse: (value) => (Math.abs(value) > MOST ? `Within ${MOST} kg.` : null),
            })}
            onCommit={(value) => setOther({ ...other, [key]: value })}
          />
        ))}
      </div>
      <div className={styles['table']} role="group" aria-label="Outcomes" tabIndex={0}>
        <table>
          <thead>
            <tr>
              <th scope="col">with this plan</th>
              <OutcomeHeads cross={about.cross} />
              <th scope="col">no longer kept</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ name, changes, notes }) => {
              const outcome = ballastOutcome(problem, plan.counts, { ...about, changes });
              return (
                <tr key={name}>
                  <th scope="row">
                    {name}
                    {notes.map((each) => (
                      <small key={each}>{each}</small>
                    ))}
                  </th>
                  <OutcomeCells outcome={outcome} massUnit={massUnit} />
                  <td>
                    {outcome.broken.map(({ limit }) => (
                      <Tag key={limit} kind="alarm">
                        {limit}
                      </Tag>
                    ))}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </div>
  );
};
