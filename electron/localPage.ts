import type { Scheduler } from '../core/scheduler.ts';
import { createBenchSupervisor, type SpawnBench } from './benchSupervisor.ts';
import type { Flags } from './flags.ts';
import { createGate } from './gate.ts';
import { loadPageAssets } from './pageAssets.ts';
import { createPageDoor } from './pageDoor.ts';
import { newSecret, pageSecret } from './pageSecret.ts';
import { LOOPBACK, startPageServer, type PageServer } from './pageServer.ts';

/**
 * The usual port, so that a page left open finds its way back after a restart. Chosen freely, below
 * those that systems hand out by themselves (from 32768 on Linux, from 49152 elsewhere).
 */
export const USUAL_PORT = 17_310;

export interface LocalPage {
  /** The address with the token that opens the page once. */
  readonly address: string;
  close(): Promise<void>;
}

const codeOf = (error: unknown): unknown =>
  error instanceof Error ? (error as NodeJS.ErrnoException).code : null;

/**
 * Opens the local page: the bench process, and the page's server in front of it. Rejects with an
 * Error, said for people, where the page was not built or the port that was asked for is not to be
 * had; the usual port, when busy, gives way to a free one.
 */
export const openLocalPage = async (options: {
  readonly flags: Flags;
  readonly assetsDir: string;
  readonly spawn: SpawnBench;
  readonly scheduler: Scheduler;
  readonly log: (line: string) => void;
}): Promise<LocalPage> => {
  const { flags, assetsDir, spawn, scheduler, log } = options;
  const assets = loadPageAssets(assetsDir);
  const secret = pageSecret(flags.dataDir);
  const token = newSecret();
  const gate = createGate(log);
  const bench = createBenchSupervisor({ spawn, scheduler, gate, log });

  const serve = (port: number): Promise<PageServer> =>
    startPageServer({
      assets,
      door: (host) => createPageDoor({ host, secret, token }),
      bench,
      gate,
      scheduler,
      log,
      port,
    });

  const serveSomewhere = async (): Promise<PageServer> => {
    try {
      return await serve(flags.port ?? USUAL_PORT);
    } catch (error) {
      const code = codeOf(error);
      if (flags.port !== null) {
        if (code === 'EADDRINUSE')
          throw new Error(
            `Port ${flags.port} is busy: give another with --port, or none to have one found.`,
            { cause: error },
          );
        if (code === 'EACCES')
          throw new Error(`The system does not give port ${flags.port}: take one above 1023.`, {
            cause: error,
          });
        throw error;
      }
      log(`port ${USUAL_PORT} is busy; a free one is taken`);
      return serve(0);
    }
  };

  try {
    const server = await serveSomewhere();
    return {
      address: `http://${LOOPBACK}:${server.port}/?token=${token}`,
      close: async () => {
        await Promise.all([server.close(), bench.stop()]);
      },
    };
  } catch (error) {
    await bench.stop();
    throw error;
  }
};
