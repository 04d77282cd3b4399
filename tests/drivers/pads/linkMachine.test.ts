import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { LINK_PHASES } from '../../../core/bench/ports.ts';
import {
  FIRST_LINK_STATE,
  stepLink,
  type LinkEffect,
  type LinkEvent,
  type LinkState,
} from '../../../drivers/pads/linkMachine.ts';

const walk = (events: readonly LinkEvent[], from: LinkState = FIRST_LINK_STATE) => {
  let state = from;
  const phases: string[] = [];
  const effects: LinkEffect[] = [];
  for (const event of events) {
    const step = stepLink(state, event);
    state = step.state;
    phases.push(state.phase);
    effects.push(...step.effects);
  }
  return { state, phases, effects };
};

const TO_LIVE: readonly LinkEvent[] = [
  { kind: 'radio', on: true },
  { kind: 'turn came' },
  { kind: 'connected' },
  { kind: 'introduced' },
  { kind: 'subscribed' },
];

describe('the way of a link', () => {
  test('from found to live', () => {
    const { phases, effects } = walk(TO_LIVE);
    expect(phases).toEqual(['waiting', 'connecting', 'discovering', 'subscribing', 'live']);
    expect(effects.map((effect) => effect.do)).toEqual([
      'queue for radio',
      'introduce',
      'wait',
      'subscribe',
      'wait',
      'faults over',
    ]);
  });

  test('lost, closed, backed off, and into the queue again', () => {
    const { phases, effects } = walk([
      ...TO_LIVE,
      { kind: 'ended' },
      { kind: 'closed' },
      { kind: 'time up' },
    ]);
    expect(phases.slice(5)).toEqual(['lost', 'backing off', 'waiting']);
    expect(effects.slice(6)).toEqual([
      { do: 'fault', code: 'pad-lost' },
      { do: 'close' },
      { do: 'wait', seconds: 1 },
      { do: 'wait back-off' },
      { do: 'queue for radio' },
    ]);
  });

  test('a closing that is never confirmed does not hold it up', () => {
    const { phases } = walk([...TO_LIVE, { kind: 'ended' }, { kind: 'time up' }]);
    expect(phases.at(-1)).toBe('backing off');
  });

  test('an absent pad backs off; being heard shortens that', () => {
    const { phases, effects } = walk([
      ...TO_LIVE.slice(0, 2),
      { kind: 'failed', why: 'pad-absent' },
      { kind: 'heard' },
    ]);
    expect(phases.slice(2)).toEqual(['backing off', 'backing off']);
    expect(effects.slice(1)).toEqual([
      { do: 'fault', code: 'pad-absent' },
      { do: 'wait back-off' },
      { do: 'shorten back-off', least: 1 },
    ]);
  });

  test('a twin waits for its serial number, and no other call wakes it', () => {
    const refused = walk([...TO_LIVE.slice(0, 3), { kind: 'refused', why: 'pad-serial-twice' }]);
    expect(refused.state).toEqual({ phase: 'refused', why: 'pad-serial-twice', radioOn: true });
    const events: readonly LinkEvent[] = [{ kind: 'heard' }, { kind: 'time up' }];
    expect(walk(events.slice(0, 1), refused.state).state.phase).toBe('refused');
    expect(walk([{ kind: 'serial free' }], refused.state).state.phase).toBe('waiting');
  });

  test('the radio goes and comes', () => {
    const off = walk([...TO_LIVE, { kind: 'radio', on: false }]);
    expect(off.phases.at(-1)).toBe('found');
    expect(off.effects.at(-1)).toEqual({ do: 'close' });
    expect(walk([{ kind: 'radio', on: true }], off.state).phases).toEqual(['waiting']);
  });
});

const anyEvent: fc.Arbitrary<LinkEvent> = fc.oneof(
  fc.record({ kind: fc.constant('radio' as const), on: fc.boolean() }),
  fc.constantFrom<LinkEvent>(
    { kind: 'heard' },
    { kind: 'turn came' },
    { kind: 'connected' },
    { kind: 'introduced' },
    { kind: 'subscribed' },
    { kind: 'ended' },
    { kind: 'failed', why: 'pad-step-late' },
    { kind: 'refused', why: 'pad-serial-missing' },
    { kind: 'closed' },
    { kind: 'time up' },
    { kind: 'serial free' },
  ),
);

describe('properties over any run of events', () => {
  test('every state is one of the phases, and no state that must be timed is entered without a wait', () => {
    fc.assert(
      fc.property(fc.array(anyEvent, { maxLength: 60 }), (events) => {
        let state = FIRST_LINK_STATE;
        for (const event of events) {
          const before = state;
          const step = stepLink(before, event);
          state = step.state;
          expect(LINK_PHASES).toContain(state.phase);
          const isEntered = state.phase !== before.phase;
          const isTimed = ['discovering', 'subscribing', 'lost', 'backing off'].includes(
            state.phase,
          );
          if (isEntered && isTimed)
            expect(step.effects.some((effect) => effect.do.startsWith('wait'))).toBe(true);
          if (isEntered && state.phase === 'waiting')
            expect(step.effects).toContainEqual({ do: 'queue for radio' });
          // What is open is closed before the link is looked for again.
          const wasOpen = ['discovering', 'subscribing', 'live'].includes(before.phase);
          const isOpen = ['discovering', 'subscribing', 'live'].includes(state.phase);
          if (wasOpen && !isOpen) expect(step.effects).toContainEqual({ do: 'close' });
          if (!state.radioOn) expect(state.phase).not.toBe('waiting');
        }
      }),
      { seed: 3, numRuns: 500 },
    );
  });

  test('from anywhere with a radio, time and a present pad lead to live, unless it is refused', () => {
    fc.assert(
      fc.property(fc.array(anyEvent, { maxLength: 60 }), (events) => {
        const somewhere = walk([...events, { kind: 'radio', on: true }]).state;
        const good: readonly LinkEvent[] = [
          { kind: 'time up' },
          { kind: 'time up' },
          { kind: 'ended' },
          { kind: 'closed' },
          { kind: 'time up' },
          ...TO_LIVE.slice(1),
        ];
        expect(walk(good, somewhere).state.phase).toBe('live');
      }),
      { seed: 4, numRuns: 500 },
    );
  });
});
