import { expect, test } from 'vitest';
import { createScreens, type FrameCursors } from '../../../core/bench/screens.ts';
import type { Frame } from '../../../core/contract/events.ts';
import type { Push, Request } from '../../../core/contract/messages.ts';

/** The envelope: one frame in flight per screen, every command answered once, nonsense refused. */

const setUp = () => {
  const framesMade: number[] = [];
  const screens = createScreens({
    state: () => ({ kind: 'state', state: {} }) as unknown as Push,
    carryOut: async (command) =>
      command.do === 'zero'
        ? { ok: false, refusal: { why: 'no', next: 'later', corner: null } }
        : { ok: true, result: { is: 'done' } },
    frame: (_cursors: FrameCursors, no) => {
      framesMade.push(no);
      return { no } as unknown as Frame;
    },
  });
  const join = () => {
    const sent: Push[] = [];
    const refused: string[] = [];
    const joined = screens.join(
      (text) => sent.push(JSON.parse(text) as Push),
      (why) => refused.push(why),
    );
    return {
      sent,
      refused,
      ask: (request: Request) => joined.receive(JSON.stringify(request)),
      askRaw: joined.receive,
      leave: joined.leave,
      kinds: () => sent.map((push) => push.kind),
    };
  };
  return { screens, join, framesMade };
};

test('no frame before hello, one in flight, the newest only', () => {
  const { screens, join, framesMade } = setUp();
  const screen = join();
  screens.sendFrames();
  expect(screen.sent).toEqual([]);

  screen.ask({ kind: 'hello', version: 1 });
  for (let tick = 0; tick < 5; tick += 1) screens.sendFrames();
  expect(screen.kinds()).toEqual(['state', 'frame']);
  // Nothing was made for the screen in vain while it was busy.
  expect(framesMade).toEqual([1]);

  screen.ask({ kind: 'frame taken', no: 7 });
  screens.sendFrames();
  expect(screen.kinds()).toEqual(['state', 'frame']);
  screen.ask({ kind: 'frame taken', no: 1 });
  screens.sendFrames();
  expect(screen.sent.at(-1)).toEqual({ kind: 'frame', frame: { no: 2 } });
});

test('a slow screen does not slow another; a hidden one gets no frames', () => {
  const { screens, join } = setUp();
  const slow = join();
  const quick = join();
  const hidden = join();
  for (const screen of [slow, quick, hidden]) screen.ask({ kind: 'hello', version: 1 });
  hidden.ask({ kind: 'visible', visible: false });
  for (let no = 1; no <= 3; no += 1) {
    screens.sendFrames();
    quick.ask({ kind: 'frame taken', no });
  }
  expect(slow.kinds()).toEqual(['state', 'frame']);
  expect(quick.kinds()).toEqual(['state', 'frame', 'frame', 'frame']);
  expect(hidden.kinds()).toEqual(['state']);
  hidden.ask({ kind: 'visible', visible: true });
  screens.sendFrames();
  expect(hidden.kinds()).toEqual(['state', 'frame']);
});

test('commands are answered with their number; after leaving nobody is called', async () => {
  const { join } = setUp();
  const screen = join();
  screen.ask({ kind: 'command', n: 4, command: { do: 'zero' } });
  screen.ask({ kind: 'command', n: 5, command: { do: 'raise practice car' } });
  await Promise.resolve();
  expect(screen.sent).toEqual([
    { kind: 'refused', n: 4, refusal: { why: 'no', next: 'later', corner: null } },
    { kind: 'done', n: 5, result: { is: 'done' } },
  ]);
  screen.ask({ kind: 'command', n: 6, command: { do: 'raise practice car' } });
  screen.leave();
  await Promise.resolve();
  expect(screen.sent).toHaveLength(2);
});

test('what does not parse is refused with a reason and changes nothing', () => {
  const { join } = setUp();
  const screen = join();
  const nonsense = [
    '',
    'null',
    '{',
    '[]',
    '{"kind":"hello","version":2}',
    '{"kind":"command","n":1,"command":{"do":"erase everything"}}',
    '{"kind":"command","n":1,"command":{"do":"set rate","serial":"A","rate":81}}',
    '{"kind":"command","n":1,"command":{"do":"zero","extra":1}}',
    '{"kind":"frame taken"}',
  ];
  for (const text of nonsense) screen.askRaw(text);
  expect(screen.refused).toHaveLength(nonsense.length);
  expect(screen.sent).toEqual([]);
});
