import { useState, type ReactElement } from 'react';
import type { BackupShown } from '../../../core/contract/backups.ts';
import type { Command } from '../../../core/contract/commands.ts';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import styles from './Backups.module.css';
import { sizeText, stateText, timeText } from './backupText.ts';

type Act = 'check copy' | 'restore copy' | 'join records';

interface Asked {
  readonly act: Exclude<Act, 'check copy'>;
  readonly copy: BackupShown;
}

const within = ({ captures }: BackupShown): string =>
  captures === null ? '' : ` (${captures} ${captures === 1 ? 'capture' : 'captures'})`;

const QUESTIONS: Readonly<Record<Asked['act'], (copy: BackupShown) => string>> = {
  'restore copy': (copy) =>
    `Put the records of ${timeText(copy)}${within(copy)} in the place of those here? What is here now is set aside first.`,
  'join records': (copy) =>
    `Join the records of ${timeText(copy)}${within(copy)} with those here? Nothing is replaced; what is here now is set aside first.`,
};
const ACTS = { 'restore copy': 'Put back', 'join records': 'Join' } as const;

/** The copies in a folder, newest first, with what can be done with each. A damaged one can only be read again. */
export const BackupList = ({
  folder,
  copies,
  isBusy,
  onGive,
}: {
  /** Null is the data folder. */
  readonly folder: string | null;
  readonly copies: readonly BackupShown[];
  readonly isBusy: boolean;
  readonly onGive: (command: Command & { readonly do: Act }) => void;
}): ReactElement => {
  const [asked, setAsked] = useState<Asked | null>(null);
  if (copies.length === 0) return <p className={styles['soft']}>There is no copy in it.</p>;
  const row = (copy: BackupShown): ReactElement => {
    const about = `${copy.machine ?? ''} ${timeText(copy)}`.trim();
    const said = stateText(copy, folder === null);
    const isSound = copy.state === 'checked' || copy.state === 'looked at';
    return (
      <tr key={copy.name}>
        <th scope="row">{timeText(copy)}</th>
        <td>{copy.machine ?? '–'}</td>
        <td>{copy.captures ?? '–'}</td>
        <td>{sizeText(copy.bytes)}</td>
        <td>
          {isSound ? said : <Tag kind="alarm">{said}</Tag>}
          {copy.why === null ? null : <small>{copy.why}</small>}
        </td>
        <td>
          <div className={styles['buttons']}>
            {copy.at === null ? null : (
              <PushButton
                small
                look="quiet"
                isDisabled={isBusy}
                aria-label={`Check ${about}`}
                onPress={() => onGive({ do: 'check copy', folder, name: copy.name })}
              >
                Check
              </PushButton>
            )}
            {isSound
              ? (['restore copy', 'join records'] as const).map((act) => (
                  <PushButton
                    key={act}
                    small
                    isDisabled={isBusy}
                    aria-label={`${ACTS[act]} ${about}`}
                    onPress={() => setAsked({ act, copy })}
                  >
                    {ACTS[act]}
                  </PushButton>
                ))
              : null}
          </div>
        </td>
      </tr>
    );
  };
  return (
    <>
      {asked ? (
        <div className={styles['asked']} role="alertdialog" aria-label={ACTS[asked.act]}>
          <p>{QUESTIONS[asked.act](asked.copy)} The pads are connected again afterwards.</p>
          <div className={styles['buttons']}>
            <PushButton
              look="main"
              autoFocus
              onPress={() => {
                setAsked(null);
                onGive({ do: asked.act, folder, name: asked.copy.name });
              }}
            >
              {asked.act === 'restore copy' ? 'Put it back' : 'Join them'}
            </PushButton>
            <PushButton onPress={() => setAsked(null)}>Leave it</PushButton>
          </div>
        </div>
      ) : null}
      <section className={styles['table']} aria-label="Copies in the folder" tabIndex={0}>
        <table>
          <thead>
            <tr>
              <th scope="col">made</th>
              <th scope="col">computer</th>
              <th scope="col">captures</th>
              <th scope="col">size</th>
              <th scope="col">state</th>
              <th scope="col">
                <span className="unseen">actions</span>
              </th>
            </tr>
          </thead>
          <tbody>{copies.map(row)}</tbody>
        </table>
      </section>
    </>
  );
};
