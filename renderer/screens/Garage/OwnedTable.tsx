import type { ReactElement } from 'react';
import { usesInWords, type Use } from '../../../core/garage/whereUsed.ts';
import { PushButton } from '../../parts/PushButton.tsx';
import styles from './OwnedTable.module.css';

/** A thing that is owned or known. */
export interface OwnedRow {
  readonly id: string;
  readonly name: string;
  /** What it is, shortly; empty for nothing more. */
  readonly about: string;
  /** Null until the records were read. */
  readonly uses: readonly Use[] | null;
  /** What can be done with it. */
  readonly does: readonly { readonly text: string; readonly onPress: () => void }[];
}

const UsedAt = ({ uses }: { readonly uses: readonly Use[] | null }): ReactElement => {
  if (uses === null) return <>—</>;
  const { counts, days } = usesInWords(uses);
  if (days.length === 0) return <>{counts}</>;
  return (
    <details>
      <summary>{counts}</summary>
      <ul>
        {days.map((day) => (
          <li key={day}>{day}</li>
        ))}
      </ul>
    </details>
  );
};

/** What is owned of one kind: what each is, where it is used, and what can be done with it. */
export const OwnedTable = ({
  label,
  what,
  rows,
  none,
}: {
  readonly label: string;
  /** The heading of the names. */
  readonly what: string;
  readonly rows: readonly OwnedRow[];
  /** What to say while there is none: how one comes to be. */
  readonly none: string;
}): ReactElement => {
  if (rows.length === 0) return <p>{none}</p>;
  const canDo = rows.some(({ does }) => does.length > 0);
  return (
    <table className={styles['table']} aria-label={label}>
      <thead>
        <tr>
          <th scope="col">{what}</th>
          <th scope="col">used in</th>
          {canDo ? <th scope="col">do</th> : null}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ id, name, about, uses, does }) => (
          <tr key={id}>
            <th scope="row">
              {name} {about === '' ? null : <small>{about}</small>}
            </th>
            <td>
              <UsedAt uses={uses} />
            </td>
            {canDo ? (
              <td>
                <div className={styles['does']}>
                  {does.map(({ text, onPress }) => (
                    <PushButton
                      key={text}
                      small
                      look="quiet"
                      aria-label={`${text} ${name}`}
                      onPress={onPress}
                    >
                      {text}
                    </PushButton>
                  ))}
                </div>
              </td>
            ) : null}
          </tr>
        ))}
      </tbody>
    </table>
  );
};
