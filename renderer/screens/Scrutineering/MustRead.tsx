import type { ReactElement } from 'react';
import { valueText, type Wanted } from '../../../core/format/valueShown.ts';
import type { BoardItem } from '../../../core/scrutineering/limitedItems.ts';
import { mustRead, type Limit } from '../../../core/scrutineering/prediction.ts';
import { quantityField } from '../../parts/understandQuantity.ts';
import styles from './Screen.module.css';
import type { Scrutineering } from './useScrutineering.ts';
import { wantedOf } from '../../../core/format/wantedOf.ts';

/** Chances beside the wished one, for what a little more certainty costs. */
const OTHERS = [0.9, 0.95, 0.99, 0.995, 0.999];

/** What we must read, in words; the same on the board. */
const mustText = (wanted: Wanted, { low, high }: Limit): string =>
  [
    low === null ? '' : `at least ${valueText(wanted, low, 0)}`,
    high === null ? '' : `at most ${valueText(wanted, high, 0)}`,
  ]
    .filter(Boolean)
    .join(', ');

/** From limit and chance what our own reading must be. */
export const MustRead = ({
  own,
  limited,
}: {
  readonly own: Scrutineering;
  readonly limited: readonly BoardItem[];
}): ReactElement | null => {
  const known = limited.filter(({ limited: { prediction } }) => prediction !== null);
  if (known.length === 0) return null;
  const chances = [...new Set([...OTHERS, own.wished])].toSorted((a, b) => a - b);
  return (
    <div className={styles['table']} tabIndex={0} role="group" aria-label="What we must read">
      <table>
        <thead>
          <tr>
            <th scope="col">to pass with</th>
            {known.map(({ limited: { id, name } }) => (
              <th key={id} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {chances.map((chance) => (
            <tr key={chance} data-wished={chance === own.wished}>
              <th scope="row">{quantityField({ kind: 'share', unit: null }, chance)}</th>
              {known.map(({ limited: { id, prediction, limit }, item }) => {
                const must = prediction && mustRead(prediction, limit, chance);
                return (
                  <td key={id}>
                    {must?.ok
                      ? mustText(wantedOf(item, own.state.settings.massUnit), must)
                      : (must?.why ?? '—')}
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
};
