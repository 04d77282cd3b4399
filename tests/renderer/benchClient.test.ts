import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import {
  encodePush,
  requestSchema,
  type Push,
  type Request,
} from '../../core/contract/messages.ts';
import type { LinkEvent } from '../../renderer/bridge.ts';
import { createBenchClient, type BenchClient } from '../../renderer/live/benchClient.ts';
import { exampleFrame, exampleState, SERIALS } from './harness/scenes.ts';

let now = 0;
let sent: Request[] = [];
let tell: (event: LinkEvent) => void = () => {};
let client: BenchClient;
let closed = false;
let reported: string[] = [];

const push = (each: Push): void => tell({ kind: 'text', text: encodePush(each) });
const kinds = (): string[] => sent.map(({ kind }) => kind);
const pass = (seconds: number): void => {
  for (let step = 0; step < seconds * 10; step += 1) {
    now += 0.1;
    vi.advanceTimersByTime(100);
  }
};

beforeEach(() => {
  vi.useFakeTimers();
  now = 0;
  sent = [];
  closed = false;
  reported = [];
  client = createBenchClient(
    (listener) => {
      tell = listener;
      return {
        send: (text) => void sent.push(requestSchema.parse(JSON.parse(text))),
        close: () => {
          closed = true;
        },
      };
    },
    () => now,
    (why) => void reported.push(why),
  );
});

afterEach(() => {
  client.close();
  vi.useRealTimers();
});

describe('the screen’s side of the contract', () => {
  test('what it started it stops', () => {
    void client.command({ do: 'zero' });
    client.close();
    expect([closed, vi.getTimerCount()]).toEqual([true, 0]);
  });

  test('greets on opening and takes each frame once', () => {
    tell({ kind: 'open' });
    push({ kind: 'state', state: exampleState() });
    push({ kind: 'frame', frame: exampleFrame({ no: 7 }) });
    expect(sent).toEqual([
      { kind: 'hello', version: 1 },
      { kind: 'visible', visible: true },
      { kind: 'frame taken', no: 7 },
    ]);
    expect(client.view.get().state?.car.name).toBe('Heron R2');
    expect(client.live.get()?.no).toBe(7);
  });

  test('infinite degrees of freedom cross the wire', () => {
    const frame = exampleFrame();
    const total = { value: 1305, u: 0.04, dof: Infinity };
    push({ kind: 'frame', frame: { ...frame, balance: { ...frame.balance!, total } } });
    expect(client.live.get()?.balance?.total.dof).toBe(Infinity);
  });

  test('what does not parse is left out, said, and not acknowledged', () => {
    tell({ kind: 'text', text: '{' });
    tell({ kind: 'text', text: '{"kind":"frame","frame":{"no":1}}' });
    expect(reported).toEqual([
      'a push was not JSON',
      expect.stringMatching(/^a push was not understood: frame\./u),
    ]);
    expect(sent).toEqual([]);
    expect(client.live.get()).toBeNull();
  });

  test('a command is done, refused, or given up after its deadline', async () => {
    const zero = client.command({ do: 'zero' });
    const check = client.command({ do: 'check zero' });
    const lost = client.command({ do: 'zero' });
    push({ kind: 'done', n: 1, result: { is: 'done' } });
    const refusal = { why: 'The car is not raised.', next: 'Raise it.', corner: null };
    push({ kind: 'refused', n: 2, refusal });
    expect(await zero).toEqual({ ok: true, result: { is: 'done' } });
    expect(await check).toEqual({ ok: false, refusal });
    for (let second = 0; second < 16; second += 1) {
      pass(1);
      push({ kind: 'frame', frame: exampleFrame({ no: second }) });
    }
    expect(await lost).toMatchObject({ ok: false, refusal: { why: 'The bench did not answer.' } });
  });

  test('a broken link: nothing is live, and a command is refused at once', async () => {
    push({ kind: 'state', state: exampleState() });
    push({ kind: 'frame', frame: exampleFrame() });
    tell({ kind: 'closed' });
    expect(client.view.get()).toMatchObject({ joined: false, state: { source: 'rig' } });
    expect(client.live.get()?.corners.LF.status).toBe('stale');
    expect(await client.command({ do: 'zero' })).toMatchObject({
      ok: false,
      refusal: { why: 'The link to the bench is broken.' },
    });
    tell({ kind: 'open' });
    push({ kind: 'frame', frame: exampleFrame({ no: 2, t: 101 }) });
    expect(client.view.get().joined).toBe(true);
    expect(client.live.get()?.corners.LF.status).toBe('live');
  });

  test('a silent bench is greeted again, then counts as gone, and comes back', () => {
    push({ kind: 'frame', frame: exampleFrame() });
    sent = [];
    pass(3);
    expect(kinds()).toEqual(['hello', 'visible']);
    expect(client.view.get().joined).toBe(true);
    pass(2);
    expect(client.view.get().joined).toBe(false);
    push({ kind: 'state', state: exampleState() });
    expect(client.view.get().joined).toBe(true);
  });

  test('a hidden window says so and is not missed', () => {
    client.setVisible(false);
    pass(60);
    expect(sent).toEqual([{ kind: 'visible', visible: false }]);
    expect(client.view.get().joined).toBe(true);
  });

  test('a new pad at a corner begins its trace anew', () => {
    const points = exampleFrame({}, () => ({ t: [99], kg: [300] }));
    push({ kind: 'state', state: exampleState() });
    push({ kind: 'frame', frame: points });
    push({ kind: 'state', state: exampleState({ assigned: { ...SERIALS, RF: 'RIG-0009' } }) });
    const { LF, RF } = client.live.rings;
    expect([LF.written(), RF.written()]).toEqual([1, 0]);
  });
});
