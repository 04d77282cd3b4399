import { utilityProcess } from 'electron';
import type { SpawnBench } from './benchSupervisor.ts';

/** Starts the bench process as an Electron utility process: the desktop window's way. */
export const createUtilityBench =
  (entry: string, args: readonly string[]): SpawnBench =>
  ({ restarted }, listener) => {
    const child = utilityProcess.fork(entry, [...args, ...(restarted ? ['--restarted'] : [])], {
      serviceName: 'Millpond bench',
      stdio: ['ignore', 'inherit', 'inherit'],
    });
    child.on('message', (message: unknown) => listener.message(message));
    child.on('exit', (code) => listener.exited(`code ${code}`));
    return {
      send: (message) => child.postMessage(message),
      // Not `child.kill()`: on POSIX that asks, and a bench that hangs does not hear it.
      kill: () => {
        if (child.pid !== undefined) process.kill(child.pid, 'SIGKILL');
      },
    };
  };
