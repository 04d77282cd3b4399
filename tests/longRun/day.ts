/** `npm run longrun`: 24 simulated hours of the whole bench; memory, handles, timers and files. */
import { mkdtempSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { slopeOf } from './slope.ts';
import { simulateDay, type Held } from './simulatedDay.ts';

const GOAL = 5;

const { values } = parseArgs({ options: { hours: { type: 'string', default: '24' } } });
const hours = Number(values.hours);
if (!(hours >= 3)) {
  console.error('--hours takes a number of 3 or more');
  process.exit(2);
}

const dir = mkdtempSync(path.join(os.tmpdir(), 'millpond-day-'));
const began = performance.now();
const row = (held: Held): void =>
  console.log(
    `${held.at.toFixed(0).padStart(3)} h  heap ${held.heap.toFixed(2)} MB  outside ${held.outside.toFixed(2)} MB  timers ${held.timers}  handles ${held.handles}  captures ${held.captures}  recorder ${held.recorder.toFixed(1)} MB  records ${held.records.toFixed(2)} MB`,
  );
try {
  const seen = await simulateDay(dir, { hours, every: 1 }, row);
  // The first two hours fill rings and the flight recorder.
  const late = seen.filter(({ at }) => at > 2);
  const slope = (of: 'heap' | 'outside'): number =>
    slopeOf(late.map((held) => ({ at: held.at, value: held[of] })));
  const [heap, outside] = [slope('heap'), slope('outside')];
  const [first, last] = [late[0], late.at(-1)];
  console.log(
    `${os.cpus().length} × ${os.cpus()[0]?.model}, ${((performance.now() - began) / 60_000).toFixed(0)} min`,
  );
  console.log(
    `heap ${heap.toFixed(3)} MB/h, outside ${outside.toFixed(3)} MB/h: goal < ${GOAL} together, ${heap + outside < GOAL ? 'met' : 'NOT MET'}`,
  );
  if (first && last) {
    console.log(
      `timers ${first.timers} to ${last.timers}, handles ${first.handles} to ${last.handles}; recorder ${first.recorder.toFixed(1)} to ${last.recorder.toFixed(1)} MB`,
    );
    const perCapture = (1000 * (last.records - first.records)) / (last.captures - first.captures);
    console.log(`records grow ${perCapture.toFixed(0)} kB a capture`);
  }
} finally {
  rmSync(dir, { recursive: true, force: true });
}
