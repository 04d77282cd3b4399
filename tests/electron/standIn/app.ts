import { EventEmitter } from 'node:events';
import { mkdirSync, readFileSync, rmSync, watch, writeFileSync } from 'node:fs';
import path from 'node:path';
import { openChromium, type Chromium } from './chromium.ts';
import { goesOn } from './events.ts';
import { kept } from './report.ts';

/** The program's life: its lock, its readiness, its end. */
class App extends EventEmitter {
  readonly isPackaged = false;
  readonly #paths = new Map<string, string>();
  #chromium: Chromium | null = null;
  #ready: Promise<void> | null = null;

  getVersion(): string {
    return '0.0.0';
  }
  getName(): string {
    return 'Millpond';
  }
  setPath(name: string, folder: string): void {
    mkdirSync(folder, { recursive: true });
    this.#paths.set(name, folder);
  }
  getPath(name: string): string {
    const folder = this.#paths.get(name);
    if (folder === undefined) throw new Error(`no path was set for ${name}`);
    return folder;
  }

  /** The lock lies in the user-data folder, as Chromium's does; the first one is told of the second. */
  requestSingleInstanceLock(data: unknown = {}): boolean {
    const folder = this.getPath('userData');
    const lock = path.join(folder, 'stand-in-lock');
    const note = path.join(folder, 'stand-in-second');
    try {
      writeFileSync(lock, '', { flag: 'wx' });
    } catch {
      writeFileSync(note, JSON.stringify([process.argv, process.cwd(), data]));
      return false;
    }
    process.on('exit', () => rmSync(lock, { force: true }));
    const watcher = watch(folder, (_kind, name) => {
      if (name !== path.basename(note)) return;
      let said: unknown[];
      try {
        said = JSON.parse(readFileSync(note, 'utf8')) as unknown[];
        rmSync(note);
      } catch {
        // Half written, or read already: the next event has the whole of it.
        return;
      }
      this.emit('second-instance', {}, ...said);
    });
    watcher.unref();
    return true;
  }

  whenReady(): Promise<void> {
    return (this.#ready ??= openChromium(this.getPath('userData')).then((chromium) => {
      this.#chromium = chromium;
      this.emit('ready');
    }));
  }
  get chromium(): Chromium {
    if (!this.#chromium) throw new Error('the app is not ready');
    return this.#chromium;
  }

  relaunch(options: unknown): void {
    kept.relaunches.push(options);
  }
  quit(): void {
    if (goesOn(this, 'before-quit')) this.exit(0);
  }
  exit(code = 0): void {
    void (this.#chromium?.close() ?? Promise.resolve()).finally(() => process.exit(code));
  }
}

export const app = new App();
// Chromium's main process asks the app to quit on these.
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => app.quit());
