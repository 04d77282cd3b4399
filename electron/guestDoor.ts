import { BlockList, isIPv4 } from 'node:net';
import type { OwnNetwork } from './ownNetworks.ts';
import type { Asked } from './pageDoor.ts';

/**
 * Who may knock at the guests' port, before any token is looked at: devices of a network that this
 * computer is in, that ask for it by its number (not by a name that was bound to it), from our own page.
 */

export interface GuestAsked extends Asked {
  /** Address that the connection comes from. */
  readonly from: string;
}

interface Refused {
  readonly is: 'refuse';
  readonly status: number;
  readonly why: string;
}

export type GuestVerdict =
  /** Host as it was asked for, one of our own. */
  | { readonly is: 'page'; readonly pathname: string; readonly host: string }
  /** A code to be exchanged for a token. */
  | { readonly is: 'join' }
  /** Whether the token is good. */
  | { readonly is: 'here' }
  | Refused;

export interface GuestDoor {
  judge(asked: GuestAsked): GuestVerdict;
  /** Null where nothing is wrong with a WebSocket but, perhaps, its token. */
  judgeUpgrade(asked: GuestAsked): Refused | null;
}

const JOIN_PATH = '/join';
const HERE_PATH = '/here';
const VIEW_PATH = '/view';

const refuse = (status: number, why: string): Refused => ({ is: 'refuse', status, why });

const isNear = (from: string, networks: readonly OwnNetwork[]): boolean => {
  if (!isIPv4(from)) return false;
  const near = new BlockList();
  for (const { address, prefix } of networks) near.addSubnet(address, prefix, 'ipv4');
  return near.check(from, 'ipv4');
};

/** Makes the door of a port; `networks` is asked each time, for a computer that moves. */
export const createGuestDoor = (options: {
  readonly port: number;
  readonly networks: () => readonly OwnNetwork[];
}): GuestDoor => {
  const header = ({ headers }: GuestAsked, key: string): string | null => {
    const value = headers[key];
    return typeof value === 'string' ? value : null;
  };

  const stranger = (asked: GuestAsked): Refused | null => {
    const networks = options.networks();
    if (!isNear(asked.from, networks)) return refuse(403, 'Join the network of the computer.');
    const host = header(asked, 'host');
    if (!networks.some(({ address }) => host === `${address}:${options.port}`))
      return refuse(421, 'This address is not served here.');
    const origin = asked.headers['origin'];
    if (origin !== undefined && origin !== `http://${host}`)
      return refuse(403, 'Another page may not ask for this.');
    return null;
  };

  return {
    judge: (asked) => {
      const wrong = stranger(asked);
      if (wrong) return wrong;
      const { method, url } = asked;
      if (method === 'POST' && url === JOIN_PATH)
        return header(asked, 'origin') === null
          ? refuse(403, 'Only our own page may join.')
          : { is: 'join' };
      if (method !== 'GET') return refuse(405, 'Only GET is served.');
      if (url === HERE_PATH) return { is: 'here' };
      return /^\/(?!\/)[\w./-]*$/.test(url)
        ? { is: 'page', pathname: url, host: header(asked, 'host') ?? '' }
        : refuse(400, 'This is not an address.');
    },
    judgeUpgrade: (asked) => {
      const wrong = stranger(asked);
      if (wrong) return wrong;
      // A browser always names the origin of a WebSocket; what does not is no page of ours.
      if (header(asked, 'origin') === null)
        return refuse(403, 'Another page may not ask for this.');
      return asked.method === 'GET' && asked.url === VIEW_PATH
        ? null
        : refuse(404, 'There is nothing here.');
    },
  };
};
