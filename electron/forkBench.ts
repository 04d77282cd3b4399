import { fork } from 'node:child_process';
import type { SpawnBench } from './benchSupervisor.ts';

/**
 * Starts the bench process as a forked Node process: the local page's way. All it prints goes to
 * our standard error, since standard output carries the page's address and nothing else.
 */
export const createForkBench =
  (entry: string, args: readonly string[]): SpawnBench =>
  ({ restarted }, listener) => {
    const child = fork(entry, [...args, ...(restarted ? ['--restarted'] : [])], {
      execArgv: [],
      stdio: ['ignore', 2, 2, 'ipc'],
    });
    child.on('message', (message) => listener.message(message));
    // Without a process number it never ran, and no `exit` follows; other errors are of a message.
    child.on('error', (error) => {
      if (child.pid === undefined) listener.exited(error.message);
    });
    child.on('exit', (code, signal) => listener.exited(signal ?? `code ${code}`));
    return {
      send: (message) => {
        // Between its end and the event of it a send fails; the event says what is to be known.
        if (child.connected) child.send(message, () => undefined);
      },
      kill: () => void child.kill('SIGKILL'),
    };
  };
