import { fault } from '../../core/faults.ts';
import type { Scheduler } from '../../core/scheduler.ts';
import type { Connection, Transport, TransportListener } from '../../drivers/pads/ports.ts';

/**
 * A transport whose adapter can be pulled out and whose links can be cut, and that writes down when
 * anything of each device was last handed on: what the screens say is judged by that.
 */
export interface BreakableTransport extends Transport {
  /** Ends every link, as the radio of a computer that slept does. */
  cutLinks(): void;
  adapter(is: 'in' | 'pulled'): void;
}

/** Wraps a transport; `heard` is told the key of the device at each notification. */
export const breakable = (
  inner: Transport,
  { scheduler, heard }: { readonly scheduler: Scheduler; readonly heard: (key: string) => void },
): BreakableTransport => {
  const links = new Set<Connection>();
  let listener: TransportListener | null = null;
  let isIn = true;
  const cutLinks = (): void => {
    for (const link of [...links]) void link.close();
  };
  return {
    start: (to) => {
      listener = to;
      return inner.start({
        radio: to.radio,
        sighted: (sighting) => {
          if (isIn) to.sighted(sighting);
        },
      });
    },
    scan: inner.scan,
    connect: async (key, lost) => {
      if (!isIn) throw new Error('the radio is gone');
      let link: Connection | null = null;
      const opened = await inner.connect(key, () => {
        if (link) links.delete(link);
        lost();
      });
      link = opened;
      links.add(opened);
      return {
        ...opened,
        subscribe: (service, uuid, received) =>
          opened.subscribe(service, uuid, (bytes, at) => {
            heard(key);
            received(bytes, at);
          }),
      };
    },
    cancelConnect: inner.cancelConnect,
    cutLinks,
    adapter: (is) => {
      isIn = is === 'in';
      if (!isIn) {
        inner.cancelConnect();
        cutLinks();
      }
      // As the Bluetooth library's transport says it (drivers/pads/transport/noble.ts).
      listener?.radio(isIn ? 'on' : 'absent', isIn ? null : fault('radio-reset', scheduler.now()));
    },
  };
};
