import { useState, type ReactElement } from 'react';
import type { KeptOf } from '../../../core/contract/kept.ts';
import type { Authority } from '../../../core/contract/scrutineering.ts';
import { newAuthority } from '../../../core/scrutineering/keptScrutineering.ts';
import { newId } from '../../newId.ts';
import { Field } from '../../parts/Field.tsx';
import { keepCommand } from '../../parts/keepCommand.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { understandName } from '../../parts/understandName.ts';
import { useCommand } from '../../parts/useCommand.ts';
import type { PartProps } from './CarsAndVenues.tsx';
import { OwnedTable } from './OwnedTable.tsx';
import styles from './Screen.module.css';

/** Whose scales decide: named, copied, set aside and taken back. */
export const Authorities = ({
  kept,
  usesOf,
}: Pick<PartProps, 'usesOf'> & { readonly kept: readonly KeptOf<'authority'>[] }): ReactElement => {
  const { note, give } = useCommand();
  const [openId, setOpen] = useState<string | null>(null);
  const newest = [...new Map(kept.map((record) => [record.subject, record])).values()];
  const open = newest.find(({ subject }) => subject === openId) ?? null;
  const keep = (subject: string, authority: Authority, isAside = false): void =>
    void give(keepCommand({ kind: 'authority', subject, authority, isAside }), {
      doing: 'Storing.',
      done: () => (isAside ? `${authority.name} is set aside.` : 'Stored.'),
    });
  const add = (authority: Authority): void => {
    const id = newId();
    keep(id, authority);
    setOpen(id);
  };
  return (
    <>
      <OwnedTable
        label="Scrutineers"
        what="scrutineers"
        none="None yet: add who decides; what they read is typed under Scrutineering."
        rows={newest.map(({ subject, authority, isAside }) => ({
          id: subject,
          name: authority.name,
          about: isAside ? 'set aside' : '',
          uses: usesOf({ is: 'authority', id: subject }),
          does: isAside
            ? [{ text: 'Take back', onPress: () => keep(subject, authority) }]
            : [
                { text: 'Rename', onPress: () => setOpen(subject) },
                {
                  text: 'Copy',
                  onPress: () => add({ ...authority, name: `${authority.name.slice(0, 70)} copy` }),
                },
                { text: 'Set aside', onPress: () => keep(subject, authority, true) },
              ],
        }))}
      />
      {open && !open.isAside ? (
        <Field
          key={open.subject}
          label="Name of the scrutineers"
          text={open.authority.name}
          understand={understandName}
          onCommit={(name) => keep(open.subject, { ...open.authority, name })}
        />
      ) : null}
      <footer className={styles['actions']}>
        <NoteLine
          note={note}
          otherwise="A copy has their equipment, limits and rules; their pairs of readings stay with the first."
        />
        <PushButton onPress={() => add(newAuthority('New scrutineers'))}>
          Add scrutineers
        </PushButton>
      </footer>
    </>
  );
};
