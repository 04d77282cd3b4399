import path from 'node:path';

const root = path.resolve(import.meta.dirname, '../../..');

/** Arguments of a Node that runs the built desktop program with the stand-in in front of it. */
export const standInArguments = (flags: readonly string[]): readonly string[] => [
  '--import',
  path.join(import.meta.dirname, 'register.ts'),
  path.join(root, 'dist/electron/main.js'),
  ...flags,
];
