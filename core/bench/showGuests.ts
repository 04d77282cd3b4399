import type { Frame } from '../contract/events.ts';
import type { GuestCall } from '../contract/guestView.ts';
import { guestView } from './guestView.ts';
import type { Memory } from './memory.ts';
import type { GuestPort } from './ports.ts';
import type { FrameCursors } from './screens.ts';

/** Shows the moment to the guests, if anybody is looking; to be called again and again. */
export const createShowGuests = (of: {
  readonly guests: GuestPort;
  readonly memory: Pick<Memory, 'settings' | 'outing'>;
  readonly frame: (cursors: FrameCursors, no: number) => Frame;
  /** The call being made with its progress in a frame; null while none is. */
  readonly currentCall: (frame: Frame) => GuestCall | null;
}): (() => void) => {
  const { guests, memory } = of;
  const cursors: FrameCursors = new Map();
  return () => {
    if (!guests.isWatched()) return;
    const frame = of.frame(cursors, 0);
    guests.show(
      guestView(frame, {
        settings: memory.settings,
        isPractice: memory.outing.practice,
        call: of.currentCall(frame),
      }),
    );
  };
};
