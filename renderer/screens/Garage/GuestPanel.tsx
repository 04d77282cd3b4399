import { useState, type ReactElement } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import type { GuestCode, GuestsShown } from '../../../core/contract/guests.ts';
import { ageShown } from '../../../core/format/quantity.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Field } from '../../parts/Field.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './GuestPanel.module.css';

type Guest = GuestsShown['guests'][number];

interface Invited {
  readonly id: string;
  readonly codes: readonly GuestCode[];
}

/** Modules of clear space around a QR code: ISO/IEC 18004. */
const QUIET = 4;

const Code = ({
  name,
  codes,
}: Pick<Invited, 'codes'> & { readonly name: string }): ReactElement => {
  const [address, setAddress] = useState(codes[0]?.address ?? '');
  const code = codes.find((each) => each.address === address) ?? codes[0];
  if (!code) return <p>This computer has no address.</p>;
  const side = code.qr.size + 2 * QUIET;
  return (
    <>
      {codes.length > 1 ? (
        <Choice
          label="The network that the device is in"
          options={codes.map((each) => ({
            value: each.address,
            text: `${each.network} ${each.address}`,
          }))}
          value={address}
          onChange={setAddress}
        />
      ) : null}
      <p>
        <strong>{name}</strong>: scan this with its camera, once. The code is worth nothing after
        that.
      </p>
      <svg
        className={styles['code']}
        viewBox={`${-QUIET} ${-QUIET} ${side} ${side}`}
        role="img"
        aria-label={`QR code for ${name}`}
        shapeRendering="crispEdges"
      >
        <path d={code.qr.path} />
      </svg>
      <p className={styles['url']}>{code.url}</p>
    </>
  );
};

const whereIs = ({ isHere, joinedAt, seenAt }: Guest, wallAt: number): string => {
  if (isHere) return 'reading along';
  if (joinedAt === null) return 'not joined yet';
  return `joined, last seen ${ageShown((wallAt - (seenAt ?? joinedAt)) / 1000)} ago`;
};

const nextName = (guests: readonly Guest[]): string => {
  for (let number = 1; ; number += 1)
    if (!guests.some(({ name }) => name === `Phone ${number}`)) return `Phone ${number}`;
};

const understandGuest = (text: string) => {
  const name = text.trim();
  return name === '' || name.length > 40
    ? ({ ok: false, why: 'One to forty letters.' } as const)
    : ({ ok: true, value: name, said: name } as const);
};

/** Phones and tablets under the car: switched on, let in by a code, taken back. */
export const GuestPanel = ({
  state: { guests: shown, wallAt },
}: {
  readonly state: BenchState;
}): ReactElement => {
  const { isOn, guests } = shown;
  const { note, give } = useCommand();
  const [typed, setTyped] = useState<string | null>(null);
  const [invited, setInvited] = useState<Invited | null>(null);
  const name = typed ?? nextName(guests);
  const newest = guests.find(({ id }) => id === invited?.id);

  const invite = async (): Promise<void> => {
    const result = await give({ do: 'invite guest', name });
    if (result?.is !== 'guest invited') return;
    setInvited({ id: result.id, codes: result.codes });
    setTyped(null);
  };

  return (
    <section className={styles['panel']} aria-label="Under the car">
      <p>
        A phone or tablet under the car shows the call, the four weights and the cross weight, and
        can change nothing. Everyone on the network who has a code can read along, and what is sent
        is not encrypted.
      </p>
      <div className={styles['row']}>
        <strong>{isOn ? 'Switched on' : 'Switched off'}</strong>
        <PushButton
          look={isOn ? 'plain' : 'main'}
          onPress={() => void give({ do: 'open guest view', isOn: !isOn })}
        >
          {isOn ? 'Switch off' : 'Switch on'}
        </PushButton>
      </div>
      {isOn ? (
        <>
          <Field
            label="Name of the device"
            text={name}
            understand={understandGuest}
            onCommit={setTyped}
          />
          <div className={styles['row']}>
            <span>Keep its screen from switching off in its own settings.</span>
            <PushButton onPress={() => void invite()}>Let in</PushButton>
          </div>
          {invited && newest ? (
            <div className={styles['invited']} role="status">
              {newest.joinedAt === null ? (
                <Code key={invited.id} name={newest.name} codes={invited.codes} />
              ) : (
                <p>{newest.name} has joined.</p>
              )}
            </div>
          ) : null}
        </>
      ) : null}
      <NoteLine note={note} />
      {guests.length > 0 ? (
        <ul className={styles['guests']} aria-label="Devices">
          {guests.map((guest) => (
            <li key={guest.id} className={styles['row']}>
              <span>
                <strong>{guest.name}</strong> {whereIs(guest, wallAt)}
              </span>
              <PushButton
                aria-label={`Take back ${guest.name}`}
                onPress={() => void give({ do: 'revoke guest', id: guest.id })}
              >
                Take back
              </PushButton>
            </li>
          ))}
        </ul>
      ) : null}
    </section>
  );
};
