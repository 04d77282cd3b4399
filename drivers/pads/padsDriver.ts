import type {
  Outcome,
  PadsEvent,
  PadsPort,
  PadStatus,
  RadioState,
} from '../../core/bench/ports.ts';
import { fault, type Fault } from '../../core/faults.ts';
import type { Scheduler } from '../../core/scheduler.ts';
import { second } from '../../core/units.ts';
import { WAITS } from './deadlines.ts';
import { createPadDirectory, type PadDirectory } from './padDirectory.ts';
import { createPadSession, type PadSession } from './padSession.ts';
import type { Sighting, Transport } from './ports.ts';
import type { PadCommand, PadModel } from './protocol/model.ts';
import { isPadAdvertised, PAD_MODELS } from './protocol/registry.ts';
import { createRadioArbiter } from './radioArbiter.ts';
import { createScanPlan } from './scanPlan.ts';

/**
 * Devices that are followed at once; ours, no source: six times four corners. Whoever invents
 * addresses can fill the air, not this computer's memory.
 */
export const MOST_DEVICES = 24;

/** What the pads driver is handed. */
export interface PadsDriverOptions {
  readonly transport: Transport;
  readonly scheduler: Scheduler;
  /** Evenly spread in [0, 1); seeded by whoever composes. */
  readonly random: () => number;
  readonly models?: readonly PadModel[];
}

/**
 * All pads behind one transport: every device that advertises a known service gets a session, which
 * keeps its link alive by itself. The bench's `PadsPort`: nothing here throws, what is wrong is told.
 */
export const createPadsDriver = (options: PadsDriverOptions): PadsPort => {
  const { transport, scheduler, random, models = PAD_MODELS } = options;
  /** In the order in which they were last heard. */
  const sessions = new Map<string, PadSession>();
  let directory: PadDirectory | null = null;

  const start = (listener: (event: PadsEvent) => void): (() => Promise<void>) => {
    let isRadioOn = false;
    let isStopped = false;
    const stopping = new Set<Promise<void>>();
    const emit = (event: PadsEvent): void => {
      if (!isStopped) listener(event);
    };
    const arbiter = createRadioArbiter(transport, scheduler);
    const scan = createScanPlan({ scheduler, scan: (on) => transport.scan(on) });
    const drop = (session: PadSession): void => {
      sessions.delete(session.key);
      const stopped = session.stop().finally(() => stopping.delete(stopped));
      stopping.add(stopped);
    };
    const known = createPadDirectory({
      scheduler,
      emit,
      /** The pad has a new address: the session of the old one is over. */
      moved: (serial, toKey) => {
        for (const session of [...sessions.values()])
          if (session.key !== toKey && session.serial() === serial && !session.isRefused())
            drop(session);
      },
      free: (serial) => {
        for (const session of sessions.values())
          if (session.serial() === serial) session.serialFree();
      },
    });
    directory = known;

    /** Room for one more: of those that are not live, the one not heard for longest gives way. */
    const makeRoom = (): boolean => {
      if (sessions.size < MOST_DEVICES) return true;
      const idle = [...sessions.values()].find((session) => !session.isLive());
      if (idle) drop(idle);
      return idle !== undefined;
    };

    const sighted = (sighting: Sighting): void => {
      if (isStopped) return;
      let session = sessions.get(sighting.key);
      if (!session) {
        if (!isPadAdvertised(sighting.services, models) || !makeRoom()) return;
        session = createPadSession(sighting, {
          scheduler,
          arbiter,
          models,
          random,
          emit,
          claim: known.claim,
          unclaim: known.unclaim,
        });
        session.radio(isRadioOn);
      }
      sessions.delete(sighting.key);
      sessions.set(sighting.key, session);
      session.heard(sighting);
    };

    const radio = (state: RadioState, because: Fault | null): void => {
      if (isStopped) return;
      isRadioOn = state === 'on';
      if (!isRadioOn) arbiter.clear();
      for (const session of sessions.values()) session.radio(isRadioOn);
      scan.radio(isRadioOn);
      emit({ kind: 'radio', state, fault: because });
      if (because) emit({ kind: 'fault', fault: because });
    };

    const statusOf = (session: PadSession): PadStatus => {
      const link = session.status();
      const stream = known.statusOf(link.serial);
      // A refused pad is not the one whose samples are counted under its serial number.
      if (!stream || link.phase === 'refused')
        return {
          ...link,
          rate: null,
          received: 0,
          missing: 0,
          duplicates: 0,
          late: 0,
          onFor: null,
        };
      const faults = [...link.faults, ...stream.faults].sort((a, b) => b.at - a.at);
      return { ...link, ...stream, rate: link.phase === 'live' ? stream.rate : null, faults };
    };

    let sentAs = '';
    const stopStatus = scheduler.every('pads: status', second(WAITS.status), () => {
      const all = [...sessions.values()];
      scan.look(all.length > 0 && all.every((session) => session.isLive()));
      // Faults leave the list by time alone, so what is sent is compared with what was.
      const pads = all.map(statusOf);
      const text = JSON.stringify(pads);
      if (text === sentAs) return;
      sentAs = text;
      emit({ kind: 'pads', pads });
    });
    const stopTransport = transport.start({ radio, sighted });

    return async () => {
      if (isStopped) return;
      isStopped = true;
      stopStatus();
      scan.stop();
      arbiter.clear();
      for (const session of [...sessions.values()]) drop(session);
      await Promise.all(stopping);
      await stopTransport();
    };
  };

  const command = async (serial: string, what: PadCommand): Promise<Outcome> => {
    const key = directory?.keyOf(serial);
    const session = key === undefined ? undefined : sessions.get(key);
    if (session) return session.command(what);
    return { ok: false, fault: fault('pad-absent', scheduler.now(), { subject: serial }) };
  };

  return {
    start,
    identify: (serial) => command(serial, { do: 'identify', seconds: WAITS.identify }),
    setRate: (serial, rate) => command(serial, { do: 'set rate', rate }),
    lastPayload: (serial) => directory?.lastPayload(serial) ?? null,
  };
};
