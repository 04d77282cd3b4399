import { DONE, refuse, type Handlers } from './answering.ts';
import type { GuestPort } from './ports.ts';

/** Letting phones and tablets read along, and no longer. */

const NOT_OPENED = {
  'no port': refuse(
    'The system gives no port for the view under the car.',
    'Allow Millpond in the firewall, or restart the computer.',
  ),
  'not built': refuse('The page for phones and tablets is missing.', 'Install Millpond anew.'),
} as const;

const NOT_INVITED = {
  shut: refuse('The view under the car is switched off.', 'Switch it on first.'),
  'too many': refuse('As many devices as can be are let in.', 'Take one back first.'),
} as const;

export const guestHandlers = (
  guests: GuestPort,
): Handlers<'open guest view' | 'invite guest' | 'revoke guest'> => ({
  'open guest view': async (_bench, { isOn }) => {
    if (!isOn) {
      await guests.close();
      return DONE;
    }
    const opened = await guests.open();
    return opened.ok ? DONE : NOT_OPENED[opened.why];
  },
  'invite guest': (_bench, { name }) => {
    const invited = guests.invite(name);
    if (!invited.ok) return NOT_INVITED[invited.why];
    return {
      ok: true,
      result: { is: 'guest invited', id: invited.id, codes: [...invited.codes] },
    };
  },
  'revoke guest': (_bench, { id }) =>
    guests.revoke(id)
      ? DONE
      : refuse('This device is not let in any more.', 'Choose one from the list.'),
});
