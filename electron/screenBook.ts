import type { Refusal } from '../core/contract/commands.ts';
import { encodePush } from '../core/contract/messages.ts';
import type { ToBench } from './gate.ts';

/**
 * The screens joined to the bench, and what must be said again when the bench process is started
 * anew: that a screen is there, its hello and whether it is visible. Commands that were on their
 * way are refused, never repeated: a capture taken twice would be worse than one asked for again.
 */

export interface Screen {
  readonly id: number;
  readonly send: (text: string) => void;
  hello: string | null;
  visible: string | null;
  /** Commands sent or waiting whose answer has not come, by number. */
  readonly pending: Set<number>;
  /** Commands given while the bench was starting, in order. */
  readonly waiting: string[];
}

export interface ScreenBook {
  add(send: (text: string) => void): Screen;
  remove(screen: Screen): void;
  /** A request of the screen. */
  receive(screen: Screen, text: string): void;
  /** A push of the bench. */
  deliver(id: number, text: string): void;
  /** Joins every screen to a bench that has just become ready. */
  rejoin(): void;
  /** Answers every command that has no answer yet: the bench that had them is gone. */
  refuseWaiting(): void;
}

/** Commands of one screen without an answer, at most; a person cannot give as many. */
const MAX_PENDING = 64;

const RESTARTED: Refusal = {
  why: 'The measuring process restarted.',
  next: 'Look whether it was done; if not, do it again. Nothing stored was lost.',
  corner: null,
};

const TOO_MANY: Refusal = {
  why: 'Too many commands are waiting for the measuring process.',
  next: 'Wait until it answers, then do it again.',
  corner: null,
};

const kindAndNumber = (text: string): { kind: unknown; n: number | null } => {
  const value: unknown = JSON.parse(text);
  if (typeof value !== 'object' || value === null) return { kind: null, n: null };
  const { kind, n } = value as { readonly kind?: unknown; readonly n?: unknown };
  return { kind, n: typeof n === 'number' && Number.isSafeInteger(n) ? n : null };
};

/** Frames come sixty times a second and answer nothing: they are known by how they begin. */
const isNoAnswer = (text: string): boolean => text.startsWith('{"kind":"frame"');

/** Makes an empty book. Texts of screens are JSON: the gate has seen to that. */
export const createScreenBook = (bench: {
  readonly send: (message: ToBench) => void;
  readonly isReady: () => boolean;
}): ScreenBook => {
  const screens = new Map<number, Screen>();
  let lastId = 0;

  const refuse = (screen: Screen, n: number, refusal: Refusal): void =>
    screen.send(encodePush({ kind: 'refused', n, refusal }));

  const joinNow = ({ id, hello, visible, waiting }: Screen): void => {
    bench.send({ kind: 'join', screen: id });
    const again = [hello, visible, ...waiting.splice(0)];
    for (const text of again) if (text !== null) bench.send({ kind: 'text', screen: id, text });
  };

  return {
    add: (send) => {
      lastId += 1;
      const screen: Screen = {
        id: lastId,
        send,
        hello: null,
        visible: null,
        pending: new Set(),
        waiting: [],
      };
      screens.set(screen.id, screen);
      if (bench.isReady()) joinNow(screen);
      return screen;
    },
    remove: (screen) => {
      if (screens.delete(screen.id) && bench.isReady())
        bench.send({ kind: 'leave', screen: screen.id });
    },
    receive: (screen, text) => {
      if (!screens.has(screen.id)) return;
      const { kind, n } = kindAndNumber(text);
      if (kind === 'hello') screen.hello = text;
      if (kind === 'visible') screen.visible = text;
      if (kind === 'command' && n !== null) {
        if (screen.pending.size >= MAX_PENDING) return refuse(screen, n, TOO_MANY);
        screen.pending.add(n);
        if (!bench.isReady()) screen.waiting.push(text);
      }
      if (bench.isReady()) bench.send({ kind: 'text', screen: screen.id, text });
    },
    deliver: (id, text) => {
      const screen = screens.get(id);
      if (!screen) return;
      if (screen.pending.size > 0 && !isNoAnswer(text)) {
        const { kind, n } = kindAndNumber(text);
        if (n !== null && (kind === 'done' || kind === 'refused')) screen.pending.delete(n);
      }
      screen.send(text);
    },
    rejoin: () => {
      for (const screen of screens.values()) joinNow(screen);
    },
    refuseWaiting: () => {
      for (const screen of screens.values()) {
        const unanswered = [...screen.pending];
        screen.pending.clear();
        screen.waiting.length = 0;
        for (const n of unanswered) refuse(screen, n, RESTARTED);
      }
    },
  };
};
