import type { ReactElement } from 'react';
import { peopleKnown } from '../../../core/garage/peopleKnown.ts';
import { useKept } from '../../live/useKept.ts';
import type { RecordsHere } from '../../live/useRecords.ts';

const NONE: readonly never[] = [];

const HEADS = ['readings', 'work', 'sheets', 'releases', 'lowerings'] as const;

/** Roles and letters that stand in the records, and what each did. */
export const People = ({ here }: { readonly here: RecordsHere | null }): ReactElement => {
  const lowerings = useKept('lowering') ?? NONE;
  if (!here) return <p>Reading the records.</p>;
  const people = peopleKnown({
    entries: here.records.flatMap(({ entries }) => entries),
    sheets: here.sheets,
    lowerings,
  });
  return (
    <>
      <p>
        Whoever reads, works, releases a sheet or lowers the car is named there once, by a role or a
        letter, and is offered again after that.
      </p>
      {people.length === 0 ? (
        <p>Nobody is named yet.</p>
      ) : (
        <table aria-label="People">
          <thead>
            <tr>
              <th scope="col">who</th>
              {HEADS.map((head) => (
                <th key={head} scope="col">
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {people.map(({ name, readings, works, sheets, releases, lowerings: lowered }) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                <td>{readings}</td>
                <td>{works}</td>
                <td>{sheets}</td>
                <td>{releases}</td>
                <td>{lowered}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </>
  );
};
