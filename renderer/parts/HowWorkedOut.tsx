import { useState, type ReactElement } from 'react';
import type { Worked } from '../../core/help/worked.ts';
import styles from './HowWorkedOut.module.css';

/** How the numbers of a screen come about; worked out only while it is open. */
export const HowWorkedOut = ({
  worked,
}: {
  readonly worked: () => readonly Worked[];
}): ReactElement => {
  const [isOpen, setOpen] = useState(false);
  return (
    <details className={styles['how']} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>How this is worked out</summary>
      {isOpen ? (
        <ul className={styles['list']}>
          {worked().map(({ what, formula, put, result, source }) => (
            <li key={what}>
              <h3>
                {what}: {result}
              </h3>
              <p>{formula}.</p>
              <dl>
                {put.map(({ name, value }) => (
                  <div key={name}>
                    <dt>{name}</dt>
                    <dd>{value}</dd>
                  </div>
                ))}
              </dl>
              <p className={styles['source']}>{source}</p>
            </li>
          ))}
        </ul>
      ) : null}
    </details>
  );
};
