import type { Command, Refusal, Result } from '../../core/contract/commands.ts';
import type { BenchState } from '../../core/contract/events.ts';
import {
  CONTRACT_VERSION,
  pushSchema,
  type Push,
  type Request,
} from '../../core/contract/messages.ts';
import { CORNERS } from '../../core/corners.ts';
import type { Link, OpenLink } from '../bridge.ts';
import { createLiveFrames, type LiveFrames } from './liveFrames.ts';
import { createStore, type Store } from './store.ts';

/** What became of a command: done with its result, or refused with the reason. It never throws. */
export type Outcome =
  | { readonly ok: true; readonly result: Result }
  | { readonly ok: false; readonly refusal: Refusal };

export interface BenchView {
  /** False while the link is down or the bench says nothing. */
  readonly joined: boolean;
  readonly state: BenchState | null;
}

/** The screen's side of the contract. */
export interface BenchClient {
  readonly view: Store<BenchView>;
  readonly live: LiveFrames;
  /** Gives a command; settles with the bench's answer, or refused after the deadline. */
  command(command: Command): Promise<Outcome>;
  setVisible(visible: boolean): void;
  close(): void;
}

/** Seconds that a command may take before it counts as unanswered. */
const COMMAND_DEADLINE = 15;
/** Seconds of silence after which the bench is greeted again; twice that is a broken link. */
const SILENCE = 2;
const WATCH_PERIOD = 0.5;

const UNANSWERED: Refusal = {
  why: 'The bench did not answer.',
  next: 'Look whether it was done before giving it again.',
  corner: null,
};

const NOT_JOINED: Refusal = {
  why: 'The link to the bench is broken.',
  next: 'It is tried again by itself; give the command again then.',
  corner: null,
};

const readPush = (text: string, report: (why: string) => void): Push | null => {
  try {
    const push = pushSchema.safeParse(JSON.parse(text));
    if (push.success) return push.data;
    const issue = push.error.issues[0];
    report(`a push was not understood: ${issue?.path.join('.') ?? ''} ${issue?.message ?? ''}`);
  } catch {
    report('a push was not JSON');
  }
  return null;
};

interface Waiting {
  readonly settle: (outcome: Outcome) => void;
  readonly timer: ReturnType<typeof setTimeout>;
}

/**
 * Joins the bench over the link. `now` is the window's monotonic clock, s; what the bench says and
 * cannot be parsed is left out and told to `report`.
 */
export const createBenchClient = (
  open: OpenLink,
  now: () => number,
  report: (why: string) => void,
): BenchClient => {
  const view = createStore<BenchView>({ joined: true, state: null });
  const live = createLiveFrames(now);
  const waiting = new Map<number, Waiting>();
  let lastCommand = 0;
  let heardAt = now();
  let greetedAt = now();
  let visible = true;

  const setJoined = (joined: boolean): void => {
    if (view.get().joined !== joined) view.set({ ...view.get(), joined });
    live.setJoined(joined);
  };
  const settle = (n: number, outcome: Outcome): void => {
    const entry = waiting.get(n);
    if (!entry) return;
    waiting.delete(n);
    clearTimeout(entry.timer);
    entry.settle(outcome);
  };
  const take = (push: Push): void => {
    heardAt = now();
    setJoined(true);
    switch (push.kind) {
      case 'state':
        for (const corner of CORNERS)
          if (view.get().state?.assigned[corner] !== push.state.assigned[corner])
            live.forget(corner);
        view.set({ joined: true, state: push.state });
        return;
      case 'frame':
        send({ kind: 'frame taken', no: push.frame.no });
        live.take(push.frame);
        return;
      case 'done':
        settle(push.n, { ok: true, result: push.result });
        return;
      case 'refused':
        settle(push.n, { ok: false, refusal: push.refusal });
        return;
    }
  };
  const greet = (): void => {
    greetedAt = now();
    send({ kind: 'hello', version: CONTRACT_VERSION });
    send({ kind: 'visible', visible });
  };

  const link: Link = open((event) => {
    if (event.kind === 'open') greet();
    else if (event.kind === 'closed') setJoined(false);
    else {
      const push = readPush(event.text, report);
      if (push) take(push);
    }
  });
  const send = (request: Request): void => link.send(JSON.stringify(request));

  const watch = setInterval(() => {
    if (!visible) return;
    const silent = now() - heardAt;
    if (silent > 2 * SILENCE) setJoined(false);
    if (silent > SILENCE && now() - greetedAt > SILENCE) greet();
  }, WATCH_PERIOD * 1000);

  return {
    view,
    live,
    command: (command) =>
      new Promise((resolve) => {
        if (!view.get().joined) {
          resolve({ ok: false, refusal: NOT_JOINED });
          return;
        }
        lastCommand += 1;
        const n = lastCommand;
        const timer = setTimeout(
          () => settle(n, { ok: false, refusal: UNANSWERED }),
          COMMAND_DEADLINE * 1000,
        );
        waiting.set(n, { settle: resolve, timer });
        send({ kind: 'command', n, command });
      }),
    setVisible: (next) => {
      visible = next;
      heardAt = now();
      send({ kind: 'visible', visible });
    },
    close: () => {
      clearInterval(watch);
      for (const n of [...waiting.keys()]) settle(n, { ok: false, refusal: UNANSWERED });
      link.close();
    },
  };
};
