import { fork as forkNode, type StdioOptions } from 'node:child_process';
import { EventEmitter } from 'node:events';
import { fileURLToPath } from 'node:url';
import { app } from './app.ts';

const parentPort = fileURLToPath(new URL('./parentPort.ts', import.meta.url));

/** A utility process as a child process of Node, with a parent port of its own. */
class UtilityProcess extends EventEmitter {
  pid: number | undefined;
  readonly #child;

  constructor(entry: string, args: readonly string[], stdio: StdioOptions, name: string) {
    super();
    this.#child = forkNode(entry, [...args], {
      execArgv: ['--import', parentPort],
      stdio: [...(stdio as 'inherit'[]), 'ipc'],
      serialization: 'advanced',
    });
    this.pid = this.#child.pid;
    this.#child.once('spawn', () => this.emit('spawn'));
    this.#child.on('message', (message) => this.emit('message', message));
    this.#child.once('exit', (code, signal) => {
      this.pid = undefined;
      if (code !== 0) {
        const reason = signal === null ? 'abnormal-exit' : 'killed';
        app.emit('child-process-gone', {}, { type: 'Utility', reason, exitCode: code ?? 1, name });
      }
      // A signal has no code here; Electron gives the number that the system has for it.
      this.emit('exit', code ?? 1);
    });
  }
  postMessage(message: unknown): void {
    if (this.#child.connected) this.#child.send(message as object, () => undefined);
  }
  /** As Electron does: it asks the process to end (SIGTERM), and a hung one does not. */
  kill(): boolean {
    return this.#child.kill('SIGTERM');
  }
}

export const utilityProcess = {
  fork: (
    entry: string,
    args: readonly string[] = [],
    {
      stdio = 'inherit',
      serviceName = '',
    }: { readonly stdio?: StdioOptions; readonly serviceName?: string } = {},
  ): UtilityProcess => new UtilityProcess(entry, args, stdio, serviceName),
};
