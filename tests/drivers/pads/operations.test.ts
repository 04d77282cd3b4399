import { describe, expect, test } from 'vitest';
import { createDrivenScheduler } from '../../../core/scheduler.ts';
import { backOff } from '../../../drivers/pads/backOff.ts';
import { createFaultBook } from '../../../drivers/pads/faultBook.ts';
import { createOperations } from '../../../drivers/pads/operations.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';
import { run } from './driven.ts';

const setUp = () => {
  const scheduler = createDrivenScheduler();
  return { scheduler, operations: createOperations('pad', scheduler) };
};

describe('operations of one link', () => {
  test('one at a time, in order', async () => {
    const { scheduler, operations } = setUp();
    const log: string[] = [];
    const act = (name: string) => () => {
      log.push(`begin ${name}`);
      const { promise, resolve } = Promise.withResolvers<string>();
      scheduler.after(name, scheduler.now(), () => {
        log.push(`end ${name}`);
        resolve(name);
      });
      return promise;
    };
    const all = Promise.all(['a', 'b'].map((name) => operations.run(name, 1, act(name))));
    await run(scheduler, 0.5);
    expect(await all).toEqual([
      { ok: true, value: 'a' },
      { ok: true, value: 'b' },
    ]);
    expect(log).toEqual(['begin a', 'end a', 'begin b', 'end b']);
    expect(scheduler.waiting()).toEqual([]);
  });

  test('a deadline ends it, and nothing else is begun on that link', async () => {
    const { scheduler, operations } = setUp();
    let begun = 0;
    const never = operations.run('read', 2, () => new Promise<void>(() => undefined));
    const next = operations.run('other', 2, () => Promise.resolve(begun++));
    await run(scheduler, 2.1);
    expect(await never).toEqual({
      ok: false,
      why: 'pad-step-late',
      detail: 'read took more than 2 s',
    });
    expect(await next).toMatchObject({ ok: false, why: 'pad-step-late' });
    expect(begun).toBe(0);
  });

  test('the loss of the link settles all of them', async () => {
    const { scheduler, operations } = setUp();
    const waiting = [1, 2].map(() =>
      operations.run('read', 2, () => new Promise<void>(() => undefined)),
    );
    await run(scheduler, 0.1);
    operations.lose();
    expect((await Promise.all(waiting)).map((done) => !done.ok && done.why)).toEqual([
      'pad-lost',
      'pad-lost',
    ]);
    expect(scheduler.waiting()).toEqual([]);
  });

  test('a rejection and a throw are outcomes; the next one runs', async () => {
    const { scheduler, operations } = setUp();
    const refused = operations.run('write', 2, () => Promise.reject(new Error('error 0x80')));
    const thrown = operations.run('write', 2, () => {
      throw new Error('at once');
    });
    const good = operations.run('write', 2, () => Promise.resolve(1));
    await run(scheduler, 0.1);
    expect(await refused).toEqual({
      ok: false,
      why: 'pad-command-refused',
      detail: 'write: error 0x80',
    });
    expect(await thrown).toMatchObject({ ok: false, detail: 'write: at once' });
    expect(await good).toEqual({ ok: true, value: 1 });
  });
});

test('back-off doubles up to its longest and spreads by a quarter', () => {
  const durations = backOff({ first: 0.25, longest: 30, random: createRandom(1).uniform });
  const nominal = [0.25, 0.5, 1, 2, 4, 8, 16, 30, 30, 30];
  const ratios = nominal.map((expected) => durations.next().value / expected);
  expect(Math.min(...ratios)).toBeGreaterThanOrEqual(0.75);
  expect(Math.max(...ratios)).toBeLessThan(1.25);
  expect(new Set(ratios).size).toBe(nominal.length);
});

test('the book of faults tells each once, lists what holds, and forgets after a minute', async () => {
  const scheduler = createDrivenScheduler();
  const told: string[] = [];
  const book = createFaultBook({
    scheduler,
    subject: () => 'MP-1',
    tell: ({ code }) => told.push(code),
  });
  book.happened('sample-gap', '4 samples');
  book.happened('sample-gap', '8 samples');
  book.holds('pad-overload');
  book.holds('pad-overload');
  expect(told).toEqual(['sample-gap', 'pad-overload']);
  expect(book.shown()).toMatchObject([
    { code: 'sample-gap', detail: '8 samples', subject: 'MP-1' },
    { code: 'pad-overload' },
  ]);
  await run(scheduler, 70, 1);
  expect(book.shown().map(({ code }) => code)).toEqual(['pad-overload']);
  book.ended('pad-overload');
  expect(book.shown()).toEqual([]);
  book.happened('sample-gap');
  expect(told).toEqual(['sample-gap', 'pad-overload', 'sample-gap']);
});
