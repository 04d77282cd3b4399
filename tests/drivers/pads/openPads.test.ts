import { describe, expect, test, vi } from 'vitest';
import { createDrivenScheduler } from '../../../core/scheduler.ts';
import { createOpenPads } from '../../../drivers/pads/openPads.ts';
import { listen, run } from './driven.ts';

const SEED = 4711;

describe('the practice rig through the whole driver', () => {
  test('pads come alive, the car is lowered, every sample is accounted for', async () => {
    const scheduler = createDrivenScheduler();
    const { pads, practice } = createOpenPads({ scheduler, seed: SEED, noise: 'normal' })(
      'rig',
      [],
    );
    const heard = listen(pads);
    await run(scheduler, 5);
    expect(heard.pads.length).toBeGreaterThanOrEqual(4);
    expect(heard.pads.every((pad) => pad.phase === 'live')).toBe(true);
    practice?.lower();
    await run(scheduler, 20);
    const loads = [...heard.samples.values()].map((samples) => {
      const [first, last] = [samples[100], samples.at(-1)];
      return first && last ? last.smooth - first.smooth : 0;
    });
    expect(loads.filter((counts) => counts > 100_000)).toHaveLength(4);
    for (const pad of heard.pads) {
      expect(pad.rate).toBeGreaterThan(79);
      expect(pad.rate).toBeLessThan(81);
      const samples = heard.samples.get(pad.serial ?? '') ?? [];
      const [first, last] = [samples[0], samples.at(-1)];
      if (!first || !last) throw new Error(`nothing of ${pad.serial}`);
      expect(samples.every(({ t }, k) => k === 0 || t > (samples[k - 1]?.t ?? 0))).toBe(true);
      // Numbers run on by what came and what is missing, and nothing else.
      const missing = heard.gaps
        .filter(({ serial }) => serial === pad.serial)
        .reduce((sum, gap) => sum + (gap.missing ?? Number.NaN), 0);
      expect(last.index - first.index + 1).toBe(samples.length + missing);
    }
    await heard.stop();
    expect(scheduler.waiting()).toEqual([]);
  });
});

describe('what cannot be opened is told', () => {
  test('a radio library that does not load', async () => {
    const scheduler = createDrivenScheduler();
    const open = createOpenPads({
      scheduler,
      seed: SEED,
      bluetooth: () => Promise.reject(new Error('no native build\nstack')),
    });
    const heard = listen(open('bluetooth', []).pads);
    await run(scheduler, 1);
    expect(heard.events.filter((event) => event.kind === 'radio')).toEqual([
      {
        kind: 'radio',
        state: 'library missing',
        fault: {
          code: 'radio-library-missing',
          subject: null,
          at: 0.005,
          detail: 'no native build',
        },
      },
    ]);
    await heard.stop();
    expect(scheduler.waiting()).toEqual([]);
  });

  test('a damaged recording, with its line; and none at all', async () => {
    const scheduler = createDrivenScheduler();
    const open = createOpenPads({
      scheduler,
      seed: SEED,
      recordingText: () => '{"format":"millpond-recording","version":1}\n[1,0]',
    });
    const damaged = listen(open('recording', []).pads);
    const missing = listen(
      createOpenPads({ scheduler, seed: SEED, recordingFile: 'nowhere/at-all.jsonl' })(
        'recording',
        [],
      ).pads,
    );
    await run(scheduler, 1);
    // The file is looked for on the real disk, which takes its own time.
    await vi.waitFor(() => expect(missing.faults).toHaveLength(1));
    expect(damaged.faults).toMatchObject([
      { code: 'recording-damaged', detail: 'line 2: 2 items; a notification has 5' },
    ]);
    expect(missing.faults).toMatchObject([
      { code: 'recording-damaged', subject: 'nowhere/at-all.jsonl' },
    ]);
    expect(missing.faults[0]?.detail).toContain('ENOENT');
    await Promise.all([damaged.stop(), missing.stop()]);
    expect(scheduler.waiting()).toEqual([]);
  });
});
