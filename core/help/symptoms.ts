/**
 * What is seen when something is wrong, and what to do. `*…*` marks words as a screen has them and
 * `` `…` `` what is typed; the README's table is made of the same rows.
 */
export interface Symptom {
  readonly symptom: string;
  readonly remedy: string;
}

const row = (symptom: string, remedy: string): Symptom => ({ symptom, remedy });

/** In the order of the job: the radio, the pads, weighing, patch and calls, records, the page. */
export const SYMPTOMS: readonly Symptom[] = [
  row(
    '*The Bluetooth adapter is switched off*, or there is none',
    'Switch it on or plug an adapter in; Millpond goes on by itself.',
  ),
  row(
    '*The system does not let Millpond use Bluetooth*',
    'See Bluetooth on Linux above, or the privacy settings.',
  ),
  row(
    'A pad is not found',
    'Charge it, bring it near, press its button; the others go on meanwhile.',
  ),
  row(
    'A corner is grey with an age',
    'Nothing was heard from it for half a second: the link is made again by itself.',
  ),
  row(
    '*Not for use* at a calibration',
    'Read what was found beside it: take more loads, or write why it is used all the same.',
  ),
  row(
    'A check says *moved*',
    'Calibrate the pad again; captures made since the last good check are in doubt.',
  ),
  row('*zero moved by …* on a capture', "Raise, zero and weigh again; look at the pad's history."),
  row('*no zero* at a corner', 'Raise the car clear of the pads and press *Zero*.'),
  row(
    '*Capture* is refused',
    'The reason stands beside the button: the corner and what it waits for.',
  ),
  row(
    'It never settles',
    'Nobody touching, brakes free, wind; look at the corner whose mark still ripples.',
  ),
  row(
    'Losses climb',
    'Bring the computer nearer, off the metal bench; or choose fewer samples a second on the card of the pad.',
  ),
  row('*Overload*', "Take the load off, check the pad's rating, then its zero."),
  row(
    'A survey does not close: *Set-ups … close with …*',
    'Read one of the points it names again from both set-ups, the laser untouched and warm.',
  ),
  row(
    '*Cannot tell*',
    'Not a fault: what is known is not enough. Read as often as it says; lower the car again rather than read it again.',
  ),
  row(
    '*Wrong sense* at a call',
    'Stop. The adjuster went the other way, or another corner was turned: mark the thread, look, then turn back.',
  ),
  row(
    'The phone under the car says *Nothing heard for …* or *old*',
    'Stop turning. Bring it into reach of the same network; the numbers come back by themselves.',
  ),
  row(
    'A file of records is refused, or a part of it',
    'The words beside it say which part and why; what is whole is taken. Export a damaged one again.',
  ),
  row(
    'The database was set aside as damaged',
    'It is kept beside the new one in the data folder; put a copy back under *Garage, Copies*.',
  ),
  row(
    '*The records could not be copied*',
    'The stick was pulled, is full or cannot be written: the reason stands under *Garage, Copies*. It is tried again every five minutes.',
  ),
  row(
    'The page says it needs its address',
    'Open the address that `npm start` printed, with its token.',
  ),
  row('`npm start` says Electron cannot be had', 'The page it prints is the same app.'),
];

/** A stretch of a text: plain, as a screen shows it, or as it is typed. */
export interface MarkedText {
  readonly as: 'plain' | 'shown' | 'typed';
  readonly text: string;
}

/** A text with its marks taken off. */
export const markedText = (text: string): readonly MarkedText[] =>
  text.split(/(\*[^*]+\*|`[^`]+`)/u).flatMap((part): MarkedText[] => {
    if (part === '') return [];
    if (part.startsWith('*')) return [{ as: 'shown', text: part.slice(1, -1) }];
    if (part.startsWith('`')) return [{ as: 'typed', text: part.slice(1, -1) }];
    return [{ as: 'plain', text: part }];
  });

/** The table as the README has it. */
export const symptomsMarkdown = (): string =>
  [
    '| symptom | remedy |',
    '|---|---|',
    ...SYMPTOMS.map(({ symptom, remedy }) => `| ${symptom} | ${remedy} |`),
  ].join('\n');
