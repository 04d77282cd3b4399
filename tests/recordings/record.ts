/**
 * Records pads as they are heard, in the recording format: `npm run record -- --out FILE
 * [--seconds N] [--pads rig|bluetooth] [--seed N] [--noise quiet|normal|harsh]`. With the rig the car
 * is lowered after three seconds.
 */
import { closeSync, openSync, writeSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { second } from '../../core/units.ts';
import { createOpenPads } from '../../drivers/pads/openPads.ts';
import { RIG_NOISE_LEVELS } from '../../drivers/pads/rig/rig.ts';
import { createRealScheduler } from '../../electron/clock.ts';

const { values } = parseArgs({
  options: {
    out: { type: 'string' },
    seconds: { type: 'string', default: '20' },
    pads: { type: 'string', default: 'rig' },
    seed: { type: 'string', default: '1' },
    noise: { type: 'string', default: 'normal' },
  },
});
const source = (['rig', 'bluetooth'] as const).find((each) => each === values.pads);
const noise = RIG_NOISE_LEVELS.find((each) => each === values.noise);
const seconds = Number(values.seconds);
if (!values.out || !source || !noise || !(seconds > 0)) {
  process.stderr.write(
    'npm run record -- --out FILE [--seconds N] [--pads rig|bluetooth] [--seed N] [--noise quiet|normal|harsh]\n',
  );
  process.exit(2);
}

const file = openSync(values.out, 'wx');
const scheduler = createRealScheduler();
let lines = 0;
const { pads, practice } = createOpenPads({
  scheduler,
  seed: Number(values.seed),
  noise,
  recordTo: (line) => {
    lines += 1;
    writeSync(file, `${line}\n`);
  },
})(source, []);
const stop = pads.start((event) => {
  if (event.kind === 'fault') process.stderr.write(`${event.fault.subject}: ${event.fault.code}\n`);
});
scheduler.after('lower', second(3), () => practice?.lower());
scheduler.after('recorded', second(seconds), () => {
  void stop().then(() => {
    closeSync(file);
    process.stdout.write(`${lines} lines in ${values.out}\n`);
    // The Bluetooth library's polling cannot be stopped.
    process.exit(0);
  });
});
