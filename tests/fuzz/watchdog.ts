import { Worker } from 'node:worker_threads';

/** An input that is not answered in this time never will be, ms. */
const HANG_MS = 60_000;
const LONGEST = 1 << 18;

/** Runs in its own thread, for the other one hangs: says the input and ends the program. */
const WATCH = `
  const { workerData } = require('node:worker_threads');
  const { writeSync } = require('node:fs');
  const head = new Int32Array(workerData, 0, 3);
  const body = new Uint8Array(workerData, 12);
  let last = 0;
  setInterval(() => {
    const now = Atomics.load(head, 0);
    if (now !== 0 && now === last) {
      const bytes = Buffer.from(body.slice(0, Atomics.load(head, 1)));
      writeSync(2, 'HANG on the input (hex of its bytes): ' + bytes.toString('hex') + '\\n');
      process.kill(process.pid, 'SIGKILL');
    }
    last = now;
  }, ${HANG_MS});
`;

export interface Watchdog {
  readonly before: (input: Uint8Array | string) => void;
  stop(): Promise<unknown>;
}

/** Ends the program with the input on the error output if an input takes longer than a minute. */
export const startWatchdog = (): Watchdog => {
  const shared = new SharedArrayBuffer(12 + LONGEST);
  const head = new Int32Array(shared, 0, 3);
  const body = Buffer.from(shared, 12);
  const worker = new Worker(WATCH, { eval: true, workerData: shared });
  return {
    before: (input) => {
      if (typeof input === 'string') head[1] = body.write(input);
      else {
        body.set(input);
        head[1] = input.length;
      }
      Atomics.add(head, 0, 1);
    },
    stop: () => worker.terminate(),
  };
};
