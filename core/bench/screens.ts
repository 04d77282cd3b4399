import { CONTRACT_VERSION, encodePush, requestSchema, type Push } from '../contract/messages.ts';
import type { Command, Refusal, Result } from '../contract/commands.ts';
import type { Frame } from '../contract/events.ts';

/**
 * The screens that are joined: parses what they ask, answers each command once, and sends frames
 * with one in flight each, the newest only. Knows nothing of what a command does.
 */

/** A command's outcome, as the bench gives it back. */
export type Answer =
  | { readonly ok: true; readonly result: Result }
  | { readonly ok: false; readonly refusal: Refusal };

export interface ScreenHandlers {
  /** The whole state as a push, for a screen that has just said hello. */
  readonly state: () => Push;
  readonly carryOut: (command: Command) => Promise<Answer>;
  /** The frame with what is new since the given cursors of this screen. */
  readonly frame: (screen: FrameCursors, no: number) => Frame;
}

/** How far one screen has been told: a ring position per pad, by serial number. */
export type FrameCursors = Map<string, number>;

interface Screen {
  readonly send: (text: string) => void;
  readonly refused: (why: string) => void;
  readonly cursors: FrameCursors;
  greeted: boolean;
  visible: boolean;
  /** Number of the frame that was not yet taken; null when the next may go. */
  inFlight: number | null;
  lastNo: number;
}

export interface Screens {
  join(
    send: (text: string) => void,
    refused?: (why: string) => void,
  ): { receive(text: string): void; leave(): void };
  /** Sends a push to every screen that said hello. */
  tellAll(push: Push): void;
  /** Sends a frame to every visible screen that has taken the last one. */
  sendFrames(): void;
}

const parse = (text: string): unknown => {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
};

/** Makes the set of joined screens, empty. */
export const createScreens = (handlers: ScreenHandlers): Screens => {
  const screens = new Set<Screen>();

  const receive = (screen: Screen, text: string): void => {
    const request = requestSchema.safeParse(parse(text));
    if (!request.success) {
      screen.refused(
        `a request was not understood (contract version ${CONTRACT_VERSION}): ${request.error.issues[0]?.message ?? ''}`,
      );
      return;
    }
    const asked = request.data;
    switch (asked.kind) {
      case 'hello':
        screen.greeted = true;
        screen.inFlight = null;
        screen.cursors.clear();
        screen.send(encodePush(handlers.state()));
        return;
      case 'visible':
        screen.visible = asked.visible;
        screen.inFlight = null;
        return;
      case 'frame taken':
        if (screen.inFlight === asked.no) screen.inFlight = null;
        return;
      case 'command': {
        const { n, command } = asked;
        void handlers.carryOut(command).then((answer) => {
          if (!screens.has(screen)) return;
          screen.send(
            encodePush(
              answer.ok
                ? { kind: 'done', n, result: answer.result }
                : { kind: 'refused', n, refusal: answer.refusal },
            ),
          );
        });
      }
    }
  };

  return {
    join: (send, refused = () => {}) => {
      const screen: Screen = {
        send,
        refused,
        cursors: new Map(),
        greeted: false,
        visible: true,
        inFlight: null,
        lastNo: 0,
      };
      screens.add(screen);
      return {
        receive: (text) => receive(screen, text),
        leave: () => {
          screens.delete(screen);
        },
      };
    },
    tellAll: (push) => {
      const text = encodePush(push);
      for (const screen of screens) if (screen.greeted) screen.send(text);
    },
    sendFrames: () => {
      for (const screen of screens) {
        if (!screen.greeted || !screen.visible || screen.inFlight !== null) continue;
        screen.inFlight = ++screen.lastNo;
        screen.send(
          encodePush({ kind: 'frame', frame: handlers.frame(screen.cursors, screen.lastNo) }),
        );
      }
    },
  };
};
