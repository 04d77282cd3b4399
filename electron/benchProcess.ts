import { randomInt } from 'node:crypto';
import os from 'node:os';
import path from 'node:path';
import { createBench, type Bench } from '../core/bench/bench.ts';
import { second } from '../core/units.ts';
import { createOpenPads } from '../drivers/pads/openPads.ts';
import { padDescriptions } from '../drivers/pads/protocol/description/descriptionPort.ts';
import { createBackups } from '../drivers/store/backups.ts';
import { ballastPort } from '../drivers/solver/ballastPort.ts';
import { createBenchRelay, type BenchRelay } from './benchRelay.ts';
import { createRealScheduler, newId, wallClock } from './clock.ts';
import { parseFlags, type Flags } from './flags.ts';
import { createGate } from './gate.ts';
import { createGuestPort } from './guestPort.ts';
import { ownNetworks } from './ownNetworks.ts';
import { createPapers } from './papers.ts';
import { openParentLink, type ParentLink } from './parentLink.ts';
import { waitForStore, type OpenStore } from './waitForStore.ts';
import { withoutLostRecording } from './withoutLostRecording.ts';

/**
 * Entry of the bench process, the same in both hosts: pads, store and bench put together, and text
 * relayed between the bench and the host's screens. It owns its end: whichever way the host asks
 * for it, or goes away, the pads are let go and the database is closed.
 */

const RESTARTED = '--restarted';
/** From an answer that ends the process to its end: the answer goes out first. */
const AGAIN_DELAY = second(0.25);
/** From being asked to the end; the host's own limit is longer. */
const END_DEADLINE = second(5);

const log = (line: string): void => void process.stderr.write(`bench: ${line}\n`);

const scheduler = createRealScheduler();
const gate = createGate(log);
const given = process.argv.slice(2);
const restarted = given.includes(RESTARTED);

let bench: Bench | null = null;
let store: OpenStore | null = null;
let relay: BenchRelay | null = null;
let ending = false;

const end = async (): Promise<void> => {
  if (ending) return;
  ending = true;
  relay?.close();
  const late = scheduler.after('bench process end', END_DEADLINE, () => {
    log('the pads did not let go in time');
    store?.close();
    process.exit(1);
  });
  await bench?.stop();
  late();
  store?.close();
  link?.close();
  // Said outright: the Bluetooth library's polling cannot be stopped.
  process.exit(0);
};

const endOrFail = (): void => {
  end().catch((error: unknown) => {
    log(`did not end cleanly: ${String(error)}`);
    process.exit(1);
  });
};

const link = openParentLink(process, {
  message: (message) => {
    const admitted = gate.admit('to bench', { is: 'process' }, message);
    if (!admitted.ok) return;
    if (admitted.payload.kind === 'stop') endOrFail();
    else if (!ending) relay?.receive(admitted.payload);
  },
  gone: endOrFail,
});
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, endOrFail);

const refuseStart = (why: string): never => {
  log(why);
  return process.exit(2);
};
const readFlags = (): Flags => {
  const parsed = parseFlags(
    given.filter((flag) => flag !== RESTARTED),
    { platform: process.platform, env: process.env, home: os.homedir(), cwd: process.cwd() },
  );
  if (parsed.kind === 'flags') return parsed.flags;
  return refuseStart(parsed.kind === 'wrong' ? parsed.why : parsed.text);
};

const start = async (host: ParentLink): Promise<void> => {
  const flags = readFlags();
  const opened = await waitForStore({ dir: flags.dataDir, wallClock, newId, scheduler, log });
  store = opened;
  // Asked to end while it waited: then there is nothing to begin.
  if (ending) return opened.close();
  const seed = flags.seed ?? randomInt(2 ** 32);
  const here = import.meta.dirname;
  const isBuilt = path.extname(import.meta.filename) === '.js';
  const made = createBench({
    openPads: createOpenPads({ scheduler, seed, recordingFile: flags.recordingFile }),
    descriptions: padDescriptions,
    paper: createPapers(path.join(here, '../fonts')),
    ballast: ballastPort,
    guests: createGuestPort({
      folder: path.join(here, isBuilt ? '../guest' : '../dist/guest'),
      networks: ownNetworks,
      scheduler,
      newId,
      wallClock,
      log,
    }),
    store: withoutLostRecording(opened, flags.recordingFile),
    copies: opened.inPlace
      ? createBackups({
          dataFolder: flags.dataDir,
          records: opened.inPlace,
          machine: os.hostname(),
          wallClock,
          newId,
          // The host starts it again, as it does after a crash.
          startAgain: () => void scheduler.after('start again', AGAIN_DELAY, endOrFail),
        })
      : null,
    machine: os.hostname(),
    scheduler,
    wallClock,
    newId,
    // After a crash what people chose meanwhile stands above the flag.
    source: restarted ? null : flags.pads,
    restarted,
  });
  bench = made;
  relay = createBenchRelay(made, (message) => host.send(message));
  host.send({ kind: 'ready' });
};

if (link) await start(link);
else refuseStart('this is started by Millpond, not by hand');
