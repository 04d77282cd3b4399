import type { Connection, Transport } from '../../drivers/pads/ports.ts';
import { CORNER_PAD_UUIDS, decodeLoads } from '../../drivers/pads/protocol/cornerPad.ts';

/**
 * Stands between the driver and the transport and writes down every notification of counter pads,
 * and when it came: what the libraries delivered, before anything of ours looked at it.
 */

export interface Arrival {
  readonly number: number;
  /** Host's monotonic clock, ms. */
  readonly at: number;
}

export interface Witness {
  readonly transport: Transport;
  /** By serial number, in order of arrival. */
  arrivals(serial: string): readonly Arrival[];
  /** Links opened and lost so far, by serial number. */
  links(serial: string): { readonly opened: number; readonly lost: number };
}

export const witnessStreams = (transport: Transport): Witness => {
  const serialOf = new Map<string, string>();
  const arrivals = new Map<string, Arrival[]>();
  const links = new Map<string, { opened: number; lost: number }>();
  const of = <T>(map: Map<string, T>, serial: string, fresh: () => T): T => {
    const made = map.get(serial) ?? fresh();
    map.set(serial, made);
    return made;
  };
  const linksOf = (serial: string): { opened: number; lost: number } =>
    of(links, serial, () => ({ opened: 0, lost: 0 }));

  const watch = (connection: Connection, serial: string): Connection => ({
    ...connection,
    subscribe: (service, uuid, received) =>
      connection.subscribe(service, uuid, (bytes, at) => {
        const decoded = uuid === CORNER_PAD_UUIDS.loads ? decodeLoads(bytes) : null;
        if (decoded?.ok)
          for (const number of decoded.packet.counts)
            of(arrivals, serial, () => []).push({ number, at: at * 1000 });
        received(bytes, at);
      }),
  });

  return {
    transport: {
      ...transport,
      start: (listener) =>
        transport.start({
          radio: listener.radio,
          sighted: (sighting) => {
            serialOf.set(sighting.key, sighting.name.replace('Counter ', ''));
            listener.sighted(sighting);
          },
        }),
      connect: async (key, lost) => {
        const serial = serialOf.get(key) ?? key;
        const connection = await transport.connect(key, () => {
          linksOf(serial).lost += 1;
          lost();
        });
        linksOf(serial).opened += 1;
        return watch(connection, serial);
      },
    },
    arrivals: (serial) => arrivals.get(serial) ?? [],
    links: linksOf,
  };
};

/** The value below which the given share of the sorted numbers lies (nearest rank). */
export const quantile = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.max(0, Math.ceil(share * sorted.length) - 1))] ?? NaN;

/** How a stretch of one pad's stream came over: what was sent from `from` to `to`, ms. */
export const compareStream = (
  sentAt: ReadonlyMap<number, number>,
  got: readonly number[],
  from: number,
  to: number,
): { sent: number; once: number; more: number; inOrder: boolean } => {
  const times = new Map<number, number>();
  for (const number of got) times.set(number, (times.get(number) ?? 0) + 1);
  const sent = [...sentAt].filter(([, at]) => at >= from && at <= to).map(([number]) => number);
  return {
    sent: sent.length,
    once: sent.filter((number) => times.get(number) === 1).length,
    more: sent.filter((number) => (times.get(number) ?? 0) > 1).length,
    inOrder: got.every((number, index) => index === 0 || number > (got[index - 1] ?? 0)),
  };
};
