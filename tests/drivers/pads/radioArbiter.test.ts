import { describe, expect, test } from 'vitest';
import { createDrivenScheduler } from '../../../core/scheduler.ts';
import { createRadioArbiter } from '../../../drivers/pads/radioArbiter.ts';
import { createPadsDriver } from '../../../drivers/pads/padsDriver.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';
import { createRigTransport } from '../../../drivers/pads/transport/rig.ts';
import { listen, run } from './driven.ts';
import { createFakeTransport } from './fakeTransport.ts';
import { createSoftPad } from './softPad.ts';

const setUp = (
  answers: Readonly<Record<string, number>>,
  options?: { settlesCancelled: boolean },
) => {
  const scheduler = createDrivenScheduler();
  const transport = createFakeTransport(scheduler, answers, options);
  const arbiter = createRadioArbiter(transport, scheduler);
  const outcomes: string[] = [];
  const turns: string[] = [];
  const lost: string[] = [];
  const ask = (key: string): void => {
    void arbiter
      .connect({ key, turnCame: () => turns.push(key), lost: () => lost.push(key) })
      .then((outcome) => outcomes.push(`${key} ${outcome.kind} ${scheduler.now().toFixed(1)}`));
  };
  return { scheduler, transport, arbiter, ask, outcomes, turns, lost };
};

describe('one connect at a time', () => {
  test('absent pads cost the others a turn each and no more', async () => {
    const { scheduler, transport, ask, outcomes, turns } = setUp({ c: 0.3, d: 0.3 });
    ['a', 'b', 'c', 'd'].forEach(ask);
    await run(scheduler, 5);
    expect(outcomes).toEqual([
      'a absent 1.5',
      'b absent 3.0',
      'c connected 3.3',
      'd connected 3.6',
    ]);
    expect(turns).toEqual(['a', 'b', 'c', 'd']);
    expect(transport.mostOutstanding()).toBe(1);
    expect(scheduler.waiting()).toEqual([]);
  });

  test('nobody waiting: it is given longer, until somebody comes', async () => {
    const { scheduler, ask, outcomes } = setUp({ b: 0.1 });
    ask('a');
    await run(scheduler, 2);
    ask('b');
    await run(scheduler, 1);
    expect(outcomes).toEqual(['a absent 2.0', 'b connected 2.1']);
    ask('a');
    await run(scheduler, 5);
    expect(outcomes.at(-1)).toBe('a absent 7.0');
  });

  test('a library that does not settle what was cancelled holds nobody up, and what it opens late is closed', async () => {
    const { scheduler, transport, ask, outcomes } = setUp(
      { a: 1.6, b: 0.1 },
      { settlesCancelled: false },
    );
    ['a', 'b'].forEach(ask);
    await run(scheduler, 3);
    expect(outcomes).toEqual(['a absent 1.5', 'b connected 1.7']);
    expect(transport.log).toEqual(['connect a', 'cancel', 'close a', 'connect b']);
  });

  test('leaving the queue cancels nothing; leaving while outstanding does', async () => {
    const { scheduler, transport, arbiter, ask, outcomes } = setUp({ a: 1, b: 1 });
    ['a', 'b'].forEach(ask);
    arbiter.leave('b');
    await run(scheduler, 0.5);
    expect(transport.log).toEqual(['connect a']);
    expect(outcomes).toEqual(['b left 0.0']);
    arbiter.leave('a');
    await run(scheduler, 0.5);
    expect(transport.log).toEqual(['connect a', 'cancel']);
    expect(outcomes.at(-1)).toBe('a left 0.5');
    expect(scheduler.waiting()).toEqual([]);
  });

  test('a second request of the same pad joins the first', async () => {
    const { scheduler, transport, ask, outcomes } = setUp({ a: 0.2 });
    ask('a');
    ask('a');
    await run(scheduler, 1);
    expect(outcomes).toEqual(['a connected 0.2', 'a connected 0.2']);
    expect(transport.log).toEqual(['connect a']);
  });

  test('the loss of a link is told to who has it', async () => {
    const { scheduler, transport, ask, lost } = setUp({ a: 0.2, b: 0.2 });
    ['a', 'b'].forEach(ask);
    await run(scheduler, 1);
    transport.lose('b');
    expect(lost).toEqual(['b']);
  });
});

test('four known pads, two of them switched off: the others are live again within 5 s', async () => {
  const scheduler = createDrivenScheduler();
  const devices = ['a', 'b', 'c', 'd'].map((key) => createSoftPad({ scheduler, key }));
  const transport = createRigTransport(devices, scheduler);
  const driver = createPadsDriver({ transport, scheduler, random: createRandom(9).uniform });
  const heard = listen(driver);
  await run(scheduler, 3);
  expect(heard.pads.map((pad) => pad.phase)).toEqual(['live', 'live', 'live', 'live']);
  for (const device of devices) device.switched(false);
  await run(scheduler, 4);
  expect(heard.pads.every((pad) => pad.phase !== 'live')).toBe(true);
  devices[2]?.switched(true);
  devices[3]?.switched(true);
  await run(scheduler, 5);
  expect(heard.pads.map((pad) => pad.phase === 'live')).toEqual([false, false, true, true]);
  const before = heard.gaps.length;
  // The absent ones go on being tried; the live ones must not notice.
  await run(scheduler, 60);
  expect(heard.gaps.length).toBe(before);
  await heard.stop();
});
