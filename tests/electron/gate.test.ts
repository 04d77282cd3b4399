import { describe, expect, test } from 'vitest';
import { createGate, MAX_SCREEN_TEXT, type Channel, type Sender } from '../../electron/gate.ts';

const setUp = () => {
  const lines: string[] = [];
  return { gate: createGate((line) => lines.push(line)), lines };
};

const ours: Sender = { is: 'frame', url: 'millpond://app/', top: true };
const screen: Sender = { is: 'screen' };
const own: Sender = { is: 'process' };
const hello = '{"kind":"hello","version":1}';

describe('lets through', () => {
  test.each<[Channel, Sender, unknown]>([
    ['bench port', ours, { ticket: 1 }],
    ['screen text', screen, hello],
    ['to bench', own, { kind: 'join', screen: 1 }],
    ['to bench', own, { kind: 'text', screen: 1, text: hello }],
    ['to bench', own, { kind: 'leave', screen: 1 }],
    ['to bench', own, { kind: 'stop' }],
    ['from bench', own, { kind: 'ready' }],
    ['from bench', own, { kind: 'text', screen: 1, text: 'x'.repeat(MAX_SCREEN_TEXT * 2) }],
    ['from bench', own, { kind: 'refused', screen: 1, why: 'not understood' }],
  ])('%s', (channel, sender, payload) => {
    const { gate, lines } = setUp();
    expect(gate.admit(channel, sender, payload)).toEqual({ ok: true, payload });
    expect(lines).toEqual([]);
  });
});

describe('refuses, and logs it', () => {
  test.each<[string, string, Sender, unknown]>([
    ['an unknown channel', 'shell', own, 'rm'],
    ['a channel of the object’s own', 'constructor', own, {}],
    ['a screen on the frame’s channel', 'bench port', screen, { ticket: 1 }],
    ['a frame on the process’s channel', 'to bench', ours, { kind: 'stop' }],
    ['a screen on the process’s channel', 'from bench', screen, { kind: 'ready' }],
    ['a frame on the screen’s channel', 'screen text', ours, hello],
    ['another page’s frame', 'bench port', { ...ours, url: 'https://app/' }, { ticket: 1 }],
    ['a frame that is gone', 'bench port', { ...ours, url: '', top: false }, { ticket: 1 }],
    ['an inner frame', 'bench port', { ...ours, top: false }, { ticket: 1 }],
    ['no ticket', 'bench port', ours, undefined],
    ['a ticket and more', 'bench port', ours, { ticket: 1, port: 2 }],
    ['a ticket that is no number', 'bench port', ours, { ticket: '1' }],
    ['a negative ticket', 'bench port', ours, { ticket: -1 }],
    ['text that is no text', 'screen text', screen, { kind: 'hello' }],
    ['text that is no JSON', 'screen text', screen, 'hello'],
    ['JSON that is no object', 'screen text', screen, '[1]'],
    ['JSON null', 'screen text', screen, 'null'],
    ['text that is too long', 'screen text', screen, `"${'x'.repeat(MAX_SCREEN_TEXT)}"`],
    ['a kind that is not known', 'to bench', own, { kind: 'eval', text: '1' }],
    ['a join with more', 'to bench', own, { kind: 'join', screen: 1, admin: true }],
    ['a screen that is no number', 'to bench', own, { kind: 'join', screen: Number.NaN }],
    ['nothing', 'from bench', own, null],
  ])('%s', (_what, channel, sender, payload) => {
    const { gate, lines } = setUp();
    // A channel that the types do not know is what is tried here.
    expect(gate.admit(channel as Channel, sender, payload)).toMatchObject({ ok: false });
    expect(lines).toHaveLength(1);
    expect(lines[0]).toContain('refused a message on');
  });

  test('the log does not carry the payload', () => {
    const { gate, lines } = setUp();
    gate.admit('screen text', screen, 'secret in no JSON');
    expect(lines.join()).not.toContain('secret');
  });
});
