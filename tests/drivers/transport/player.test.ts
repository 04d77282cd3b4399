import { describe, expect, test } from 'vitest';
import { createDrivenScheduler } from '../../../core/scheduler.ts';
import type { PadSample } from '../../../core/reading.ts';
import { createOpenPads } from '../../../drivers/pads/openPads.ts';
import { createPadsDriver } from '../../../drivers/pads/padsDriver.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';
import { recordTransport } from '../../../drivers/pads/transport/recorder.ts';
import { parseRecording } from '../../../drivers/pads/transport/recording.ts';
import { createRigTransport } from '../../../drivers/pads/transport/rig.ts';
import { listen, run } from '../pads/driven.ts';
import { createSoftPad } from '../pads/softPad.ts';

const SEED = 606;

/** Records two pads for some seconds, one of them losing every twentieth notification. */
const record = async (seconds: number) => {
  const scheduler = createDrivenScheduler();
  const lines: string[] = [];
  const devices = [
    createSoftPad({ scheduler, key: 'a' }),
    createSoftPad({ scheduler, key: 'b', fate: (n) => (n % 20 === 7 ? 0 : 1) }),
  ];
  const driver = createPadsDriver({
    transport: recordTransport(createRigTransport(devices, scheduler), {
      scheduler,
      write: (line) => lines.push(line),
    }),
    scheduler,
    random: createRandom(SEED).uniform,
  });
  const heard = listen(driver);
  await run(scheduler, seconds);
  await heard.stop();
  return { lines, heard };
};

const play = async (lines: readonly string[], seconds: number, isLooped: boolean) => {
  const scheduler = createDrivenScheduler();
  const open = createOpenPads({
    scheduler,
    seed: SEED,
    isLooped,
    recordingText: () => lines.join('\n'),
  });
  const { pads, practice } = open('recording', []);
  expect(practice).toBeNull();
  const heard = listen(pads);
  await run(scheduler, seconds);
  return { heard, scheduler };
};

const rawOf = (samples: readonly PadSample[] | undefined): readonly number[] =>
  (samples ?? []).map((sample) => sample.raw);

describe('what was recorded is what is played', () => {
  test('the recording is whole and says who the pads are', async () => {
    const { lines } = await record(4);
    const parsed = parseRecording(lines.join('\n'));
    if (!parsed.ok) throw new Error(`line ${parsed.line}: ${parsed.why}`);
    expect(parsed.recording.devices.map(({ key, name, signal }) => [key, name, signal])).toEqual([
      ['a', 'Pad a', -60],
      ['b', 'Pad b', -60],
    ]);
    const values = parsed.recording.devices[0]?.characteristics.filter(({ value }) => value);
    expect(values?.map(({ uuid }) => uuid.slice(0, 8))).toEqual([
      '2a25',
      '2a26',
      '2a19',
      '2a6e',
      '8f1d0004',
    ]);
  });

  test('the same pads, the same samples, the same holes and spacing; then they are gone', async () => {
    const { lines, heard: live } = await record(10);
    const { heard: played, scheduler } = await play(lines, 14, false);
    expect(played.pads.map(({ serial, battery }) => [serial, battery])).toEqual([
      ['SN-a', 77],
      ['SN-b', 77],
    ]);
    for (const serial of ['SN-a', 'SN-b']) {
      const [was, is] = [live.samples.get(serial) ?? [], played.samples.get(serial) ?? []];
      // The link's end gives out the sample that was still held when recording stopped.
      expect(rawOf(is).slice(0, was.length)).toEqual(rawOf(was));
      expect(is.length).toBe(was.length + 1);
      const shift = (is[40]?.t ?? NaN) - (was[40]?.t ?? NaN);
      for (const [k, sample] of was.entries())
        expect(Math.abs((is[k]?.t ?? NaN) - sample.t - shift)).toBeLessThan(1e-5);
    }
    const holes = (gaps: typeof live.gaps) =>
      gaps.map(({ serial, missing, reason }) => [serial, missing, reason]);
    expect(holes(played.gaps)).toEqual(holes(live.gaps));
    expect(holes(live.gaps).length).toBeGreaterThan(5);
    expect(played.pads.every(({ phase }) => phase !== 'live')).toBe(true);
    await played.stop();
    expect(scheduler.waiting()).toEqual([]);
  });

  test('looped: it begins again, and the seam is a hole that says so', async () => {
    const { lines, heard: live } = await record(6);
    const { heard: played, scheduler } = await play(lines, 20, true);
    expect(
      played.gaps.filter(({ serial }) => serial === 'SN-a').map(({ reason }) => reason),
    ).toEqual(['restarted', 'restarted']);
    const was = rawOf(live.samples.get('SN-a'));
    const is = rawOf(played.samples.get('SN-a'));
    expect(is.slice(was.length + 1, was.length + 101)).toEqual(was.slice(0, 100));
    await played.stop();
    expect(scheduler.waiting()).toEqual([]);
  });
});
