/**
 * What the system adds to a desktop program's command line, taken apart from our own flags: a file
 * that was opened with Millpond, and Chromium's own switches.
 */

/** Files that the system opens with Millpond: recordings of pads. */
const FILE_ENDING = '.millpond';

export interface DesktopArguments {
  /** What is left for the flags' own parser. */
  readonly flags: readonly string[];
  /** The opened file as it was given; null where there is none. */
  readonly file: string | null;
}

/**
 * Switches that Chromium reads by itself from the same command line; the flags' parser would not
 * know them. Only what starting it under a debugger or on a machine without a display needs.
 */
const CHROMIUM_SWITCH = /^--(?:remote-debugging-port=\d+|ozone-platform=[a-z]+|disable-gpu)$/;

const isOpenedFile = (text: string): boolean =>
  !text.startsWith('-') && text.toLowerCase().endsWith(FILE_ENDING);

/** Takes the command line after the program's own name apart. Only a file at its end was opened. */
export const desktopArguments = (argv: readonly string[]): DesktopArguments => {
  const ours = argv.filter((text) => !CHROMIUM_SWITCH.test(text));
  const last = ours.at(-1);
  // After `recording` it is the flag's value.
  return last !== undefined && isOpenedFile(last) && ours.at(-2) !== 'recording'
    ? { flags: ours.slice(0, -1), file: last }
    : { flags: ours, file: null };
};

/** The flags that play an opened file; those that already name pads stand. */
export const playFile = ({ flags, file }: DesktopArguments): readonly string[] =>
  file === null || flags.some((flag) => /^--(?:pads|page)\b/.test(flag))
    ? flags
    : [...flags, '--pads', 'recording', file];
