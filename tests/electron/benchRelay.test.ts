import { expect, test } from 'vitest';
import type { Bench } from '../../core/bench/bench.ts';
import { createBenchRelay } from '../../electron/benchRelay.ts';
import type { FromBench } from '../../electron/gate.ts';

/** A bench that notes what its screens do, each by the order of joining. */
const setUp = () => {
  const notes: string[] = [];
  const sends: ((text: string) => void)[] = [];
  const bench: Bench = {
    join: (send, refused) => {
      const name = `screen ${sends.push(send)}`;
      notes.push(`${name} joins`);
      return {
        receive: (text) => {
          notes.push(`${name}: ${text}`);
          if (text === 'bad') refused?.('not understood');
        },
        leave: () => notes.push(`${name} leaves`),
      };
    },
    stop: () => Promise.resolve(),
  };
  const sent: FromBench[] = [];
  return { notes, sends, sent, relay: createBenchRelay(bench, (message) => sent.push(message)) };
};

test('joins, relays by number, and leaves', () => {
  const { notes, sends, sent, relay } = setUp();
  relay.receive({ kind: 'join', screen: 10 });
  relay.receive({ kind: 'join', screen: 20 });
  relay.receive({ kind: 'text', screen: 20, text: 'hello' });
  relay.receive({ kind: 'text', screen: 10, text: 'bad' });
  relay.receive({ kind: 'text', screen: 30, text: 'nobody' });
  sends[1]?.('state');
  relay.receive({ kind: 'leave', screen: 10 });
  relay.receive({ kind: 'leave', screen: 10 });
  relay.receive({ kind: 'text', screen: 10, text: 'late' });
  relay.close();
  expect(notes).toEqual([
    'screen 1 joins',
    'screen 2 joins',
    'screen 2: hello',
    'screen 1: bad',
    'screen 1 leaves',
    'screen 2 leaves',
  ]);
  expect(sent).toEqual([
    { kind: 'refused', screen: 10, why: 'not understood' },
    { kind: 'text', screen: 20, text: 'state' },
  ]);
});

test('a number that joins twice has left first', () => {
  const { notes, relay } = setUp();
  relay.receive({ kind: 'join', screen: 1 });
  relay.receive({ kind: 'join', screen: 1 });
  expect(notes).toEqual(['screen 1 joins', 'screen 1 leaves', 'screen 2 joins']);
});
