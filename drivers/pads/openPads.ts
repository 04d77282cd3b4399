import type { OpenPads, PadsPort } from '../../core/bench/ports.ts';
import { fault } from '../../core/faults.ts';
import type { Scheduler } from '../../core/scheduler.ts';
import { createPadsDriver } from './padsDriver.ts';
import type { Transport } from './ports.ts';
import { describedModels } from './protocol/description/describedModels.ts';
import { createRandom } from './rig/random.ts';
import { createRig, type RigNoise } from './rig/rig.ts';
import { deferTransport } from './transport/deferred.ts';
import { createDamagedRecording, createPlayer } from './transport/player.ts';
import { recordTransport } from './transport/recorder.ts';
import { parseRecording } from './transport/recording.ts';
import { readRecordingFile } from './transport/recordingFile.ts';
import { createRigTransport } from './transport/rig.ts';

export interface OpenPadsOptions {
  readonly scheduler: Scheduler;
  /** A whole number: the rig's day and the jitter of back-offs. */
  readonly seed: number;
  /** How disturbed the practice rig is; normal unless said. */
  readonly noise?: RigNoise;
  /** The recording to play, by its path; or by its text, which goes first. */
  readonly recordingFile?: string | null | undefined;
  readonly recordingText?: (() => string | Promise<string>) | undefined;
  /** Whether the recording begins again at its end; it does unless said. */
  readonly isLooped?: boolean;
  /** Another radio than this computer's; only called when Bluetooth is opened. */
  readonly bluetooth?: (() => Transport | Promise<Transport>) | undefined;
  /** Takes a recording of everything that is opened, line by line (transport/recording.ts). */
  readonly recordTo?: ((line: string) => void) | undefined;
}

const reasonOf = (error: unknown): string =>
  (error instanceof Error ? error.message : String(error)).split('\n')[0] ?? '';

/** Loads this computer's radio: the library is not touched before Bluetooth is asked for. */
const loadNoble = async (scheduler: Scheduler): Promise<Transport> => {
  const { createNobleTransport } = await import('./transport/noble.ts');
  return createNobleTransport({ scheduler });
};

/**
 * Puts transports, rig and driver together for the hosts. Opening a source throws nothing; what is
 * wrong comes as radio state and fault. A description that cannot be used is told as a fault when
 * the pads start.
 */
export const createOpenPads = (options: OpenPadsOptions): OpenPads => {
  const { scheduler, seed, noise = 'normal', isLooped = true } = options;

  const drive = (transport: Transport, descriptions: readonly string[]): PadsPort => {
    const { models, unused } = describedModels(descriptions);
    const { recordTo } = options;
    const driver = createPadsDriver({
      transport: recordTo ? recordTransport(transport, { scheduler, write: recordTo }) : transport,
      scheduler,
      random: createRandom(seed).uniform,
      models,
    });
    return {
      ...driver,
      start: (listener) => {
        for (const { index, problems } of unused)
          listener({
            kind: 'fault',
            fault: fault('pad-description-unusable', scheduler.now(), {
              subject: `pad description ${index + 1}`,
              detail: problems.map(({ path, what }) => `${path || 'text'}: ${what}`)[0] ?? null,
            }),
          });
        return driver.start(listener);
      },
    };
  };

  const bluetooth = (): Transport =>
    deferTransport(
      async () => (options.bluetooth ? options.bluetooth() : loadNoble(scheduler)),
      (error) => ({
        state: 'library missing',
        fault: fault('radio-library-missing', scheduler.now(), { detail: reasonOf(error) }),
      }),
    );

  const recording = (): Transport => {
    const { recordingText, recordingFile } = options;
    const load = async (): Promise<Transport> => {
      if (!recordingText && !recordingFile)
        return createDamagedRecording(scheduler, 'no recording was chosen');
      const text = recordingText
        ? await recordingText()
        : await readRecordingFile(recordingFile ?? '');
      const parsed = parseRecording(text);
      return parsed.ok
        ? createPlayer({ recording: parsed.recording, scheduler, isLooped })
        : createDamagedRecording(scheduler, `line ${parsed.line}: ${parsed.why}`);
    };
    return deferTransport(load, (error) => ({
      state: 'absent',
      fault: fault('recording-damaged', scheduler.now(), {
        subject: recordingFile ?? null,
        detail: reasonOf(error),
      }),
    }));
  };

  return (source, descriptions) => {
    switch (source) {
      case 'bluetooth':
        return { pads: drive(bluetooth(), descriptions), practice: null };
      case 'recording':
        return { pads: drive(recording(), descriptions), practice: null };
      case 'rig': {
        const rig = createRig({ scheduler, seed, noise });
        const pads = drive(createRigTransport(rig.devices, scheduler), descriptions);
        return {
          practice: rig.practice,
          pads: {
            ...pads,
            start: (listener) => {
              const stop = pads.start(listener);
              return async () => {
                await stop();
                rig.stop();
              };
            },
          },
        };
      }
    }
  };
};
