import { STATUS } from './hciPackets.ts';
import {
  hexOf,
  type LinkEnd,
  type LinkParametersAsked,
  type VirtualController,
  type VirtualLink,
} from './virtualController.ts';

/**
 * The air between virtual controllers: advertisements reach who scans, a connect finds who
 * advertises, packets cross, and a link that hears nothing for its supervision timeout breaks on
 * both sides. As on a real link nothing is lost while it holds: what cannot be heard waits.
 */

const TICK_MS = 5;

export interface VirtualRadio {
  add(controller: VirtualController): void;
  /** Ends every link of a controller as loss, and takes it off the air. */
  remove(controller: VirtualController): void;
  /** How often each link ended, by reason: for tests to look at. */
  readonly ends: { readonly reason: number; readonly quietMs: number }[];
  stop(): void;
}

/** `random` gives numbers in [0, 1); it only jitters the advertisements. */
export const createVirtualRadio = (random: () => number): VirtualRadio => {
  const controllers = new Map<VirtualController, { advertiseAt: number }>();
  const links = new Set<VirtualLink & { tick(now: number): void; lose(): void }>();
  const ends: { reason: number; quietMs: number }[] = [];

  const makeLink = (
    central: VirtualController,
    peripheral: VirtualController,
    asked: LinkParametersAsked,
  ): void => {
    let held: (() => void)[] = [];
    let quietSince: number | null = null;
    const isQuiet = (): boolean => !peripheral.options.isAudible();
    const finish = (by: LinkEnd, reason: number, othersReason: number): void => {
      if (!links.delete(link)) return;
      const now = performance.now();
      ends.push({ reason, quietMs: quietSince === null ? 0 : now - quietSince });
      held = [];
      by.controller.closed(by, reason);
      const to = link.other(by);
      to.controller.closed(to, othersReason);
    };
    const link: VirtualLink & { tick(now: number): void; lose(): void } = {
      other: (end) => (end === centralEnd ? peripheralEnd : centralEnd),
      isQuiet,
      carry: (deliver) => {
        if (held.length > 0 || isQuiet()) held.push(deliver);
        else deliver();
      },
      end: finish,
      lose: () => finish(centralEnd, STATUS.supervisionTimeout, STATUS.supervisionTimeout),
      tick: (now) => {
        if (!isQuiet()) {
          quietSince = null;
          const waiting = held;
          held = [];
          for (const deliver of waiting) deliver();
          return;
        }
        quietSince ??= now;
        if (now - quietSince >= asked.timeout * 10) link.lose();
      },
    };
    const centralEnd: LinkEnd = { controller: central, handle: central.nextHandle(), link };
    const peripheralEnd: LinkEnd = {
      controller: peripheral,
      handle: peripheral.nextHandle(),
      link,
    };
    links.add(link);
    central.open(centralEnd, 'central', asked);
    peripheral.open(peripheralEnd, 'peripheral', asked);
  };

  const advertise = (from: VirtualController): void => {
    for (const to of controllers.keys()) {
      if (to === from || !to.up()) continue;
      const initiating = to.initiating();
      if (initiating?.peer === hexOf(from.options.address)) {
        makeLink(to, from, initiating.asked);
        return;
      }
      to.hear(from);
    }
  };

  const tick = (): void => {
    const now = performance.now();
    for (const [controller, when] of controllers) {
      if (!controller.isAdvertising() || now < when.advertiseAt) continue;
      // Interval plus a random delay of 0–10 ms: Core specification Vol 6 Part B 4.4.2.2.1.
      when.advertiseAt = now + controller.advertisingInterval() + 10 * random();
      advertise(controller);
    }
    for (const link of [...links]) link.tick(now);
  };

  const timer = setInterval(tick, TICK_MS);
  return {
    ends,
    add: (controller) => {
      controllers.set(controller, { advertiseAt: 0 });
    },
    remove: (controller) => {
      controllers.delete(controller);
      for (const end of [...controller.links.values()])
        end.link.end(end, STATUS.supervisionTimeout, STATUS.supervisionTimeout);
    },
    stop: () => clearInterval(timer),
  };
};
