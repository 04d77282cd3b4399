import type { Second } from './units.ts';

/**
 * Everything that can go wrong, as a closed vocabulary. A fault is data: it crosses processes as it
 * is and is never matched as a string. Each code says the cause, whether Millpond tries again by
 * itself, and what the operator does next.
 */
interface FaultKind {
  readonly cause: string;
  readonly retry: 'by itself' | 'after remedy' | 'never';
  readonly remedy: string;
}

const kinds = {
  'radio-absent': {
    cause: 'This computer has no Bluetooth adapter that can be used.',
    retry: 'after remedy',
    remedy: 'Plug in a Bluetooth 4.0 or newer adapter, or use the practice rig.',
  },
  'radio-off': {
    cause: 'The Bluetooth adapter is switched off.',
    retry: 'by itself',
    remedy: 'Switch Bluetooth on in the system settings; Millpond goes on by itself.',
  },
  'radio-not-permitted': {
    cause: 'The system does not let Millpond use Bluetooth.',
    retry: 'after remedy',
    remedy:
      'Allow Bluetooth for Millpond in the privacy settings. On Linux give the program the raw network capability (see README, Bluetooth on Linux), then start again.',
  },
  'radio-unsupported': {
    cause: 'Bluetooth Low Energy is not supported by this adapter or system.',
    retry: 'never',
    remedy: 'Use another adapter or computer, or the practice rig.',
  },
  'radio-library-missing': {
    cause: 'The Bluetooth library could not be loaded on this system.',
    retry: 'after remedy',
    remedy:
      'It has to be compiled here once: see README, Bluetooth on macOS and Windows. The practice rig works without it.',
  },
  'radio-reset': {
    cause: 'The Bluetooth adapter was reset or pulled out.',
    retry: 'by itself',
    remedy: 'Wait, or plug the adapter in again; the pads come back by themselves.',
  },
  'pad-lost': {
    cause: 'The link to the pad broke.',
    retry: 'by itself',
    remedy: 'Bring the computer nearer or check the battery; the pad is being looked for.',
  },
  'pad-absent': {
    cause: 'The pad does not answer.',
    retry: 'by itself',
    remedy: 'Switch the pad on and bring it near; it is tried again, the others go on.',
  },
  'pad-step-late': {
    cause: 'The pad took too long over a step of connecting.',
    retry: 'by itself',
    remedy: 'Nothing: it is tried again. If it goes on, switch the pad off and on.',
  },
  'pad-not-understood': {
    cause: 'The device does not offer the services of any pad model known here.',
    retry: 'after remedy',
    remedy: 'Check the pad’s firmware, or add a pad model that describes it.',
  },
  'pad-description-unusable': {
    cause: 'A pad description cannot be used; pads that only it describes are not recognised.',
    retry: 'after remedy',
    remedy: 'Correct the description at the place that is named, and import it again.',
  },
  'pad-serial-missing': {
    cause: 'The pad has no serial number, so it cannot be told from another.',
    retry: 'after remedy',
    remedy: 'Give the pad a serial number with its maker’s tool.',
  },
  'pad-serial-twice': {
    cause: 'Two pads answer with the same serial number.',
    retry: 'after remedy',
    remedy: 'Switch one of them off: the second is not used until the first is gone.',
  },
  'pad-silent': {
    cause: 'The pad is connected and sends nothing.',
    retry: 'by itself',
    remedy: 'Nothing: the link is made anew. If it goes on, switch the pad off and on.',
  },
  'pad-overload': {
    cause: 'The load is above what the pad can weigh.',
    retry: 'by itself',
    remedy: 'Take the load off. Check the pad’s rating and its zero before going on.',
  },
  'pad-saturated': {
    cause: 'The pad’s converter is at the end of its range.',
    retry: 'by itself',
    remedy: 'Check the pad’s wiring and load; the number is only a bound.',
  },
  'pad-low-battery': {
    cause: 'The pad’s battery is low.',
    retry: 'by itself',
    remedy: 'Charge or change it before the next set-down.',
  },
  'pad-restarted': {
    cause: 'The pad restarted: its sequence and clock began again.',
    retry: 'by itself',
    remedy: 'Check its battery and contacts; take the zero again.',
  },
  'pad-stuck': {
    cause: 'The pad repeats the same number without any noise.',
    retry: 'by itself',
    remedy: 'Press on the pad: if the number stays, switch it off and on.',
  },
  'pad-command-refused': {
    cause: 'The pad does not take this command.',
    retry: 'never',
    remedy: 'Use a rate that the pad’s model offers; not every model can blink.',
  },
  'payload-malformed': {
    cause: 'The pad sent bytes that its model does not allow.',
    retry: 'by itself',
    remedy: 'If it goes on, check the pad’s firmware version against its model.',
  },
  'sample-gap': {
    cause: 'Samples were lost on the way.',
    retry: 'by itself',
    remedy: 'Bring the computer nearer; a capture with a hole over 0.2 s is refused.',
  },
  'sample-duplicate': {
    cause: 'The same sample came twice; the second was left out.',
    retry: 'by itself',
    remedy: 'Nothing.',
  },
  'sample-late': {
    cause: 'A sample came after younger ones; it was left out.',
    retry: 'by itself',
    remedy: 'Nothing. If it goes on, bring the computer nearer.',
  },
  'sample-impossible': {
    cause: 'The pad’s clock or sequence made a jump that cannot be.',
    retry: 'by itself',
    remedy: 'If it goes on, switch the pad off and on.',
  },
  'spike-rejected': {
    cause: 'A lone sample stood far from its neighbours; it was left out of the average.',
    retry: 'by itself',
    remedy: 'Nothing. If it goes on, check the pad’s plug and cable.',
  },
  'recording-damaged': {
    cause: 'The recording cannot be read.',
    retry: 'after remedy',
    remedy: 'Choose another file; the line that is wrong is named.',
  },
  'store-newer': {
    cause: 'The database was written by a newer Millpond.',
    retry: 'after remedy',
    remedy: 'Use the newer Millpond, or start with another data folder.',
  },
  'store-damaged': {
    cause: 'The database file is damaged. It was set aside untouched and a new one begun.',
    retry: 'after remedy',
    remedy: 'Put a copy back on the Garage screen; the damaged file is kept in the data folder.',
  },
  'store-record-unreadable': {
    cause: 'A stored record cannot be read. It is left as it is and not shown.',
    retry: 'never',
    remedy: 'Keep the data folder; measure again. The other records are not affected.',
  },
  'store-full': {
    cause: 'The disk is full: nothing more can be stored.',
    retry: 'after remedy',
    remedy: 'Make room on the disk, then capture again.',
  },
  'store-busy': {
    cause: 'Another program holds the database.',
    retry: 'by itself',
    remedy: 'Close the other Millpond that uses this data folder.',
  },
  'store-failed': {
    cause: 'The database could not be written.',
    retry: 'after remedy',
    remedy: 'Check that the data folder can be written, then do it again.',
  },
  'copy-not-made': {
    cause: 'The records could not be copied to the folder for copies.',
    retry: 'by itself',
    remedy: 'Plug the stick in, or choose another folder on the Garage screen; nothing else waits.',
  },
  'bench-restarted': {
    cause: 'The measuring process stopped and was started again. Nothing stored was lost.',
    retry: 'by itself',
    remedy: 'Nothing. The pads are connected again by themselves.',
  },
} as const satisfies Record<string, FaultKind>;

export type FaultCode = keyof typeof kinds;

export const FAULT_CODES = Object.keys(kinds) as readonly FaultCode[];

/** Cause, retry and remedy of every code. */
export const FAULTS: Readonly<Record<FaultCode, FaultKind>> = kinds;

/** One fault as it happened. */
export interface Fault {
  readonly code: FaultCode;
  /** What it is about: a pad's serial number (its name where it has not said one), a file; else null. */
  readonly subject: string | null;
  /** When, on the host's monotonic clock. */
  readonly at: Second;
  /** Anything more that helps, in one line; never needed to know what to do. */
  readonly detail: string | null;
}

/** Makes a fault. */
export const fault = (
  code: FaultCode,
  at: Second,
  about: { readonly subject?: string | null; readonly detail?: string | null } = {},
): Fault => ({ code, at, subject: about.subject ?? null, detail: about.detail ?? null });
