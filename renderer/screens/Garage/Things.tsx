import type { ReactElement } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import type { KeptOf } from '../../../core/contract/kept.ts';
import { authoritiesKept, pairsKept } from '../../../core/scrutineering/keptScrutineering.ts';
import type { RecordsHere } from '../../live/useRecords.ts';
import { keepCommand } from '../../parts/keepCommand.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';

/** Tables of what is owned: what it is, and where it is used. */

const Table = ({
  label,
  heads,
  rows,
}: {
  readonly label: string;
  readonly heads: readonly string[];
  readonly rows: readonly {
    readonly id: string;
    readonly cells: readonly (string | ReactElement)[];
  }[];
}): ReactElement => (
  <table aria-label={label}>
    <thead>
      <tr>
        {heads.map((head) => (
          <th key={head} scope="col">
            {head}
          </th>
        ))}
      </tr>
    </thead>
    <tbody>
      {rows.map(({ id, cells }) => (
        <tr key={id}>
          {cells.map((cell, index) => (
            <td key={heads[index]}>{cell}</td>
          ))}
        </tr>
      ))}
    </tbody>
  </table>
);

/** The cars, and how many sheets and records each has. */
export const Cars = ({
  state,
  here,
}: {
  readonly state: BenchState;
  readonly here: RecordsHere | null;
}): ReactElement => (
  <Table
    label="Cars"
    heads={['car', '', 'sheets', 'records']}
    rows={state.cars.map(({ id, name }) => ({
      id,
      cells: [
        name,
        id === state.car.id ? 'in use' : '',
        here ? String(here.sheets.filter((sheet) => sheet.carId === id).length) : '—',
        here ? String(here.records.filter((record) => record.carId === id).length) : '—',
      ],
    }))}
  />
);

/** The pads that are known, where each stands and what it is used with. */
export const Pads = ({ state }: { readonly state: BenchState }): ReactElement =>
  state.pads.length === 0 ? (
    <p>No pad was heard yet: choose pads or practice on Balance.</p>
  ) : (
    <Table
      label="Pads"
      heads={['pad', 'model', 'corner']}
      rows={state.pads.map((pad) => ({
        id: pad.key,
        cells: [
          pad.serial ?? pad.name,
          pad.model ?? '—',
          Object.entries(state.assigned).find(([, serial]) => serial === pad.serial)?.[0] ?? 'none',
        ],
      }))}
    />
  );

/** Whose scales decide: with how many pairs each is known; set aside and taken back. */
export const Authorities = ({
  kept,
  pairs,
}: {
  readonly kept: readonly KeptOf<'authority'>[];
  readonly pairs: readonly KeptOf<'pair'>[];
}): ReactElement => {
  const { note, give } = useCommand();
  const newest = [...new Map(kept.map((record) => [record.subject, record])).values()];
  const known = pairsKept(pairs);
  if (newest.length === 0) return <p>None yet: they are named under Scrutineering.</p>;
  const alive = new Set(authoritiesKept(kept).map(({ id }) => id));
  return (
    <>
      <Table
        label="Authorities"
        heads={['authority', 'pairs', '', 'do']}
        rows={newest.map(({ subject, authority }) => {
          const isAside = !alive.has(subject);
          return {
            id: subject,
            cells: [
              authority.name,
              String(known.get(subject)?.filter((pair) => !pair.isAside).length ?? 0),
              isAside ? 'set aside' : '',
              <PushButton
                key="do"
                small
                look="quiet"
                aria-label={`${isAside ? 'Take back' : 'Set aside'} ${authority.name}`}
                onPress={() =>
                  void give(
                    keepCommand({ kind: 'authority', subject, authority, isAside: !isAside }),
                  )
                }
              >
                {isAside ? 'Take back' : 'Set aside'}
              </PushButton>,
            ],
          };
        })}
      />
      <NoteLine note={note} />
    </>
  );
};
