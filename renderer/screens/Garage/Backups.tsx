import { useCallback, useEffect, useState, type ReactElement } from 'react';
import type { BackupShown } from '../../../core/contract/backups.ts';
import type { Command } from '../../../core/contract/commands.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { useKept } from '../../live/useKept.ts';
import { useClient } from '../../live/useLive.tsx';
import { Choice } from '../../parts/Choice.tsx';
import { Field, type Understood } from '../../parts/Field.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { BackupList } from './BackupList.tsx';
import styles from './Backups.module.css';
import { backupResultText, backupsText } from './backupText.ts';

type Where = 'copies' | 'other' | 'here';

const understandFolder = (text: string): Understood<string> => {
  const folder = text.trim();
  return folder === '' || folder.length > 400
    ? { ok: false, why: 'The whole path of a folder, from the root or the drive’s letter on.' }
    : { ok: true, value: folder, said: folder };
};

type Found =
  | { readonly is: 'copies'; readonly copies: readonly BackupShown[] }
  | { readonly is: 'refused'; readonly why: string };

/** What lies in a folder, read again whenever `asOf` changes; null while it is being read. */
const useCopiesIn = (folder: string | null | undefined, asOf: string): Found | null => {
  const client = useClient();
  const [found, setFound] = useState<Found | null>(null);
  useEffect(() => {
    let isWanted = true;
    setFound(null);
    if (folder === undefined) return undefined;
    void client.command({ do: 'list copies', folder }).then((outcome) => {
      if (!isWanted) return;
      if (!outcome.ok)
        setFound({ is: 'refused', why: `${outcome.refusal.why} ${outcome.refusal.next}` });
      else if (outcome.result.is === 'copies') setFound(outcome.result);
    });
    return () => {
      isWanted = false;
    };
  }, [client, folder, asOf]);
  return found;
};

/** Rows of other computers that say something else than the row of here with the same id. */
const Conflicts = (): ReactElement | null => {
  const conflicts = useKept('conflict') ?? [];
  if (conflicts.length === 0) return null;
  return (
    <details>
      <summary>
        {conflicts.length === 1 ? '1 record' : `${conflicts.length} records`} of other computers say
        something else than those here and are kept beside them
      </summary>
      <ul className={styles['soft']}>
        {conflicts.map(({ id, table, subject, content }) => (
          <li key={id}>
            {table} {subject}: <code>{content.slice(0, 200)}</code>
          </li>
        ))}
      </ul>
    </details>
  );
};

/** Copies of the records: where they go, what is there, putting one back, joining another computer's. */
export const Backups = ({ view }: { readonly view: BenchView }): ReactElement | null => {
  const { note, give } = useCommand();
  const [where, setWhere] = useState<Where>('copies');
  const [other, setOther] = useState('');
  const [told, setTold] = useState<string | null>(null);
  const [turn, setTurn] = useState(0);
  const copies = view.state?.copies ?? null;
  const folders = {
    copies: copies?.folder ?? undefined,
    other: other === '' ? undefined : other,
    here: null,
  };
  const folder = folders[where];
  const found = useCopiesIn(
    view.joined ? folder : undefined,
    `${copies?.lastAt ?? ''} ${turn} ${view.joined}`,
  );

  const act = useCallback(
    async (command: Command, doing: string): Promise<void> => {
      setTold(null);
      const result = await give(command, { doing, done: null });
      // It stays until the next: what was put back or joined is read when there is time.
      if (result) setTold(backupResultText(result));
      setTurn((before) => before + 1);
    },
    [give],
  );

  if (!copies) return null;
  const isBusy = copies.underWay !== null;
  return (
    <section className={styles['backups']} aria-label="Copies">
      <p>{backupsText(copies)}</p>
      {copies.trouble === null ? null : (
        <p>
          <Tag kind="alarm">not copied</Tag> {copies.trouble}
        </p>
      )}
      <Field
        label="Folder for copies"
        text={copies.folder ?? ''}
        understand={understandFolder}
        onCommit={(chosen) =>
          void act({ do: 'choose copy folder', folder: chosen }, 'Looking at the folder.')
        }
      />
      {copies.folder === null ? null : (
        <div className={styles['buttons']}>
          <PushButton
            look="main"
            isDisabled={isBusy}
            onPress={() => void act({ do: 'copy now' }, 'Copying and checking.')}
          >
            Copy now
          </PushButton>
          <PushButton
            look="quiet"
            onPress={() => void act({ do: 'choose copy folder', folder: null }, 'Stopping.')}
          >
            Stop copying
          </PushButton>
        </div>
      )}
      <NoteLine note={note} otherwise={told ?? ''} />
      <Choice
        label="Put back or join"
        options={[
          { value: 'copies', text: 'from the folder for copies' },
          { value: 'other', text: 'from another folder' },
          { value: 'here', text: 'what was set aside here' },
        ]}
        value={where}
        onChange={setWhere}
      />
      {where === 'other' ? (
        <Field
          label="Folder with copies, or another computer’s data folder"
          text={other}
          understand={understandFolder}
          onCommit={setOther}
        />
      ) : null}
      {found?.is === 'refused' ? <p>{found.why}</p> : null}
      {found?.is === 'copies' && folder !== undefined ? (
        <BackupList
          folder={folder}
          copies={found.copies}
          isBusy={isBusy}
          onGive={(command) => void act(command, 'Reading it through.')}
        />
      ) : null}
      <Conflicts />
    </section>
  );
};
