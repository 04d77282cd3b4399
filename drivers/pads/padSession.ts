import type { Outcome, PadsEvent, PadStatus } from '../../core/bench/ports.ts';
import { fault, type FaultCode } from '../../core/faults.ts';
import type { Scheduler } from '../../core/scheduler.ts';
import type { Second } from '../../core/units.ts';
import { WAITS } from './deadlines.ts';
import { createFaultBook } from './faultBook.ts';
import type { Introduced } from './introduction.ts';
import {
  FIRST_LINK_STATE,
  stepLink,
  type LinkEffect,
  type LinkEvent,
  type LinkState,
} from './linkMachine.ts';
import { createLinkTimer } from './linkTimer.ts';
import { openPadLink, type PadLink } from './padLink.ts';
import type { PadStream } from './padStream.ts';
import type { Sighting } from './ports.ts';
import type { PadCommand, PadModel } from './protocol/model.ts';
import type { RadioArbiter } from './radioArbiter.ts';

/** What a session is handed. It opens nothing itself and knows no other pad. */
export interface SessionPorts {
  readonly scheduler: Scheduler;
  readonly arbiter: RadioArbiter;
  readonly models: readonly PadModel[];
  /** Evenly spread in [0, 1), for the back-off. */
  readonly random: () => number;
  readonly emit: (event: PadsEvent) => void;
  /** Takes the serial number for this key; null where a live pad has it. */
  readonly claim: (pad: Introduced, key: string) => PadStream | null;
  /** The link of this key is no longer live. */
  readonly unclaim: (key: string) => void;
}

/** What the link knows of a pad's status; what its stream knows is beside it. */
export type LinkStatus = Omit<
  PadStatus,
  'rate' | 'received' | 'missing' | 'duplicates' | 'late' | 'onFor'
>;

/** One pad as the driver sees it: it runs the link machine's effects. */
export interface PadSession {
  readonly key: string;
  /** Whether all that is to come of this link is its samples. */
  readonly isLive: () => boolean;
  readonly isRefused: () => boolean;
  readonly serial: () => string | null;
  heard(sighting: Sighting): void;
  radio(isOn: boolean): void;
  serialFree(): void;
  command(command: PadCommand): Promise<Outcome>;
  status(): LinkStatus;
  /** Ends the link and every timer. */
  stop(): Promise<void>;
}

const LINK_FAULTS: readonly FaultCode[] = [
  'pad-lost',
  'pad-absent',
  'pad-step-late',
  'pad-silent',
  'pad-not-understood',
  'pad-serial-missing',
  'pad-serial-twice',
];

/** Makes the session of a sighted device; nothing happens until the radio is on and it is heard. */
export const createPadSession = (first: Sighting, ports: SessionPorts): PadSession => {
  const { scheduler, arbiter, random } = ports;
  const { key } = first;
  let sighting = first;
  let state: LinkState = FIRST_LINK_STATE;
  let since: Second = scheduler.now();
  /** Names one connect and its link: what comes from an older one is not heard. */
  let attempt = 0;
  let link: PadLink | null = null;
  let pad: Introduced | null = null;
  let stream: PadStream | null = null;
  let stopped = false;
  let detail: string | undefined;
  const faults = createFaultBook({
    scheduler,
    subject: () => pad?.serial ?? (sighting.name || null),
    tell: (told) => ports.emit({ kind: 'fault', fault: told }),
  });

  const timer = createLinkTimer({ key, scheduler, random, timeUp: () => on({ kind: 'time up' }) });

  const queue = (): void => {
    const mine = ++attempt;
    const isMine = (): boolean => attempt === mine && !stopped;
    void arbiter
      .connect({
        key,
        turnCame: () => isMine() && on({ kind: 'turn came' }),
        lost: () => {
          if (!isMine()) return;
          dropLink();
          on({ kind: 'ended' });
        },
      })
      .then((outcome) => {
        if (outcome.kind === 'connected' && !isMine())
          void outcome.connection.close().catch(() => undefined);
        if (!isMine() || outcome.kind === 'left') return;
        if (outcome.kind === 'connected') {
          link = openPadLink({ key, scheduler, connection: outcome.connection });
          on({ kind: 'connected' });
          return;
        }
        detail = outcome.kind === 'failed' ? outcome.detail : undefined;
        on({ kind: 'failed', why: 'pad-absent' });
      });
  };

  const meet = async (): Promise<void> => {
    const mine = attempt;
    if (!link) return;
    const met = await link.introduce(ports.models);
    if (attempt !== mine || stopped) return;
    if (!met.ok) {
      detail = met.detail;
      on(met.refused ? { kind: 'refused', why: met.why } : { kind: 'failed', why: met.why });
      return;
    }
    pad = met.pad;
    stream = ports.claim(met.pad, key);
    if (stream) on({ kind: 'introduced' });
    else {
      detail = met.pad.serial;
      on({ kind: 'refused', why: 'pad-serial-twice' });
    }
  };

  const subscribe = async (): Promise<void> => {
    const mine = attempt;
    if (!link || !pad || !stream) return;
    const into = stream;
    const done = await link.subscribe(pad, {
      received: (bytes, at) => {
        if (attempt === mine && !stopped) into.received(bytes, at);
      },
      silent: () => attempt === mine && on({ kind: 'failed', why: 'pad-silent' }),
    });
    if (attempt !== mine || stopped) return;
    if (!done.ok) detail = done.detail;
    on(done.ok ? { kind: 'subscribed' } : { kind: 'failed', why: done.why });
  };

  /** Forgets the link: nothing of it is heard from here on. */
  const dropLink = (): void => {
    link?.end();
    stream?.linkLost();
    link = null;
    stream = null;
    ports.unclaim(key);
  };

  /** Closes what is open; settles at the latest by its deadline. */
  const close = async (): Promise<void> => {
    const open = link;
    const mine = ++attempt;
    dropLink();
    if (open) await open.close();
    if (attempt === mine && !stopped) on({ kind: 'closed' });
  };

  const run = (effect: LinkEffect): void => {
    switch (effect.do) {
      case 'queue for radio':
        return queue();
      case 'leave radio':
        attempt++;
        return arbiter.leave(key);
      case 'introduce':
        return void meet();
      case 'subscribe':
        return void subscribe();
      case 'close':
        return void close();
      case 'wait':
        return timer.wait(effect.seconds);
      case 'wait back-off':
        return timer.backOff();
      case 'shorten back-off':
        return timer.shorten(effect.least);
      case 'fault':
        faults.holds(effect.code, detail);
        detail = undefined;
        return;
      case 'faults over':
        for (const code of LINK_FAULTS) faults.ended(code);
        return;
    }
  };

  /** Events that come while effects run wait their turn. */
  const events: LinkEvent[] = [];
  let isStepping = false;
  const on = (event: LinkEvent): void => {
    events.push(event);
    if (isStepping) return;
    isStepping = true;
    for (let next = events.shift(); next && !stopped; next = events.shift()) {
      const before = state;
      const step = stepLink(before, next);
      state = step.state;
      if (state.phase !== before.phase) {
        timer.cancel();
        if (before.phase === 'live' && scheduler.now() - since >= WAITS.provenLife) timer.proven();
        since = scheduler.now();
      }
      step.effects.forEach(run);
    }
    isStepping = false;
  };

  return {
    key,
    isLive: () => state.phase === 'live',
    isRefused: () => state.phase === 'refused',
    serial: () => pad?.serial ?? null,
    heard: (next) => {
      sighting = { ...next, name: next.name || sighting.name };
      on({ kind: 'heard' });
    },
    radio: (isOn) => on({ kind: 'radio', on: isOn }),
    serialFree: () => on({ kind: 'serial free' }),
    command: async (command) => {
      const done = link && pad ? await link.command(pad, command) : null;
      if (done?.ok) return { ok: true };
      const why = done?.why ?? 'pad-lost';
      const about = { subject: pad?.serial ?? null, detail: done?.detail ?? null };
      return { ok: false, fault: fault(why, scheduler.now(), about) };
    },
    status: () => ({
      key,
      serial: pad?.serial ?? null,
      name: sighting.name,
      model: pad?.model.name ?? null,
      firmware: pad?.firmware ?? null,
      rating: pad?.rating ?? null,
      phase: state.phase,
      phaseSince: since,
      signal: link?.values.signal ?? sighting.signal,
      battery: link?.values.battery ?? pad?.battery ?? null,
      temperature: link?.values.temperature ?? pad?.temperature ?? null,
      faults: faults.shown(),
    }),
    stop: async () => {
      stopped = true;
      timer.cancel();
      arbiter.leave(key);
      await close();
    },
  };
};
