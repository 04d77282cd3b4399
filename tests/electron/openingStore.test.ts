import { describe, expect, test } from 'vitest';
import { createDrivenScheduler } from '../../core/scheduler.ts';
import type { PadSource } from '../../core/bench/ports.ts';
import { fault } from '../../core/faults.ts';
import { second } from '../../core/units.ts';
import type { OpenedStore } from '../../drivers/store/open.ts';
import { createUnavailableStore } from '../../electron/unavailableStore.ts';
import { waitForStore } from '../../electron/waitForStore.ts';
import { withoutLostRecording } from '../../electron/withoutLostRecording.ts';

const why = fault('store-newer', second(0));

describe('withoutLostRecording', () => {
  const plain = createUnavailableStore(why);
  const begins = (last: PadSource | null, recordingFile: string | null): PadSource | null => {
    const store = { ...plain, load: () => ({ ...plain.load(), source: last }) };
    return withoutLostRecording(store, recordingFile).load().source;
  };

  test.each<[PadSource | null, string | null, PadSource | null]>([
    [null, null, null],
    ['rig', null, 'rig'],
    ['bluetooth', null, 'bluetooth'],
    ['recording', null, null],
    ['recording', '/r.mpr', 'recording'],
    ['bluetooth', '/r.mpr', 'bluetooth'],
  ])('used last %s, file %s: %s', (last, recordingFile, source) => {
    expect(begins(last, recordingFile)).toBe(source);
  });

  test('all else is the store’s own', () => {
    const { load: _changed, ...rest } = withoutLostRecording(plain, null);
    expect(plain).toMatchObject(rest);
  });
});

test('a store that is not available refuses every write with the reason, and remembers nothing', () => {
  const { load, openCapture, faults, inPlace, close, ...others } = createUnavailableStore(why);
  const { captures, capturesById, zerosOf, calibrationsOf, kept, ...writes } = others;
  expect(load()).toMatchObject({ settings: null, cars: [], source: null, outing: null });
  expect([openCapture('x'), faults, inPlace]).toEqual([null, [why], null]);
  for (const read of [captures, capturesById, zerosOf, calibrationsOf, kept])
    expect((read as () => unknown)()).toEqual([]);
  close();
  expect(Object.keys(writes)).toHaveLength(14);
  for (const write of Object.values(writes))
    expect((write as () => unknown)()).toEqual({ ok: false, fault: why });
});

describe('waitForStore', () => {
  const setUp = (answers: readonly OpenedStore[]) => {
    const scheduler = createDrivenScheduler();
    const lines: string[] = [];
    let opened = 0;
    const waiting = waitForStore({
      dir: '/d',
      wallClock: () => 0,
      newId: () => 'id',
      scheduler,
      log: (line) => lines.push(line),
      open: () => {
        const answer = answers[Math.min(opened, answers.length - 1)];
        opened += 1;
        if (!answer) throw new Error('no answer');
        return answer;
      },
    });
    return { scheduler, lines, waiting, opened: () => opened };
  };
  const busy: OpenedStore = { ok: false, fault: fault('store-busy', second(0)) };
  const pass = async (
    scheduler: { advance(by: ReturnType<typeof second>): void },
    times: number,
  ) => {
    for (let n = 0; n < times; n++) {
      await Promise.resolve();
      await Promise.resolve();
      scheduler.advance(second(0.25));
    }
  };

  test('waits for another process to let go', async () => {
    // Only its identity matters here.
    const store = createUnavailableStore(why) as unknown as Extract<
      OpenedStore,
      { ok: true }
    >['store'];
    const { scheduler, waiting, opened } = setUp([busy, busy, { ok: true, store }]);
    await pass(scheduler, 2);
    expect(await waiting).toBe(store);
    expect([opened(), scheduler.waiting()]).toEqual([3, []]);
  });

  test('gives up after three seconds, and says why', async () => {
    const { scheduler, waiting, lines, opened } = setUp([busy]);
    await pass(scheduler, 13);
    expect((await waiting).faults).toEqual([fault('store-busy', second(0))]);
    expect([opened(), lines]).toEqual([13, ['the store is not available: store-busy']]);
  });

  test('does not wait for what waiting does not mend', async () => {
    const { waiting, opened } = setUp([{ ok: false, fault: why }]);
    expect((await waiting).saveCapture).toBeTypeOf('function');
    expect((await waiting).faults).toEqual([why]);
    expect(opened()).toBe(1);
  });
});
