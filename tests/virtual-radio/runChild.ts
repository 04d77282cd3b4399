import { spawn } from 'node:child_process';
import path from 'node:path';

/**
 * Runs a program of this folder in a process of its own and ends it: the radio libraries' polling
 * cannot be stopped. The program's last line of output is its result as JSON.
 */
export const runChild = <Result>(
  file: string,
  parameters: readonly string[],
  deadlineMs: number,
): Promise<Result> =>
  new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [path.join(import.meta.dirname, file), ...parameters], {
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let output = '';
    let errors = '';
    const timer = setTimeout(() => child.kill('SIGKILL'), deadlineMs);
    child.stdout.on('data', (chunk: Buffer) => (output += chunk.toString()));
    child.stderr.on('data', (chunk: Buffer) => (errors += chunk.toString()));
    child.on('error', reject);
    child.on('close', (code, signal) => {
      clearTimeout(timer);
      const line = output.trim().split('\n').at(-1) ?? '';
      try {
        if (code !== 0) throw new Error(`ended with ${code ?? signal}`);
        resolve(JSON.parse(line) as Result);
      } catch (error) {
        reject(new Error(`${file}: ${String(error)}\n${output}\n${errors}`));
      }
    });
  });

/** The child's end: its one line, then out, whatever still polls. */
export const finishChild = (result: unknown): void => {
  process.stdout.write(`${JSON.stringify(result)}\n`, () => process.exit(0));
};
