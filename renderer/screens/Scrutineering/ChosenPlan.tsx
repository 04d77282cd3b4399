import type { ReactElement } from 'react';
import { valueText } from '../../../core/format/valueShown.ts';
import { clockShown } from '../../clockShown.ts';
import { useKept } from '../../live/useKept.ts';
import styles from './Screen.module.css';
import type { Scrutineering } from './useScrutineering.ts';

/** The plan that was kept last for this car. */
export const ChosenPlan = ({ own }: { readonly own: Scrutineering }): ReactElement | null => {
  const kept = useKept('ballast plan', own.state.car.id)?.at(-1);
  if (!kept) return null;
  const { problem, plan, at, authorityId } = kept;
  const mass = (kg: number): string =>
    valueText({ kind: 'mass', unit: own.state.settings.massUnit }, kg, 0.01);
  const authority = own.authorities.find(({ id }) => id === authorityId)?.authority.name;
  return (
    <section className={styles['part']} aria-label="Kept plan">
      <h2>Kept plan</h2>
      <p>
        {mass(plan.worth.grams / 1000)} in {plan.worth.plates} plates, {clockShown(at)}
        {authority === undefined ? '' : `, for ${authority}`}:
      </p>
      <ul className={styles['sentences']}>
        {problem.places.flatMap(({ id, name }, place) => {
          const plates = problem.plates.flatMap((size, i) => {
            const count = plan.counts[place]?.[i] ?? 0;
            return count === 0 ? [] : [`${count} × ${size.name}`];
          });
          return plates.length === 0
            ? []
            : [
                <li key={id}>
                  {name}: {plates.join(', ')}
                </li>,
              ];
        })}
      </ul>
    </section>
  );
};
