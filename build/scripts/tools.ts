import path from 'node:path';
import { passOn, rootFolder } from './prepare.mjs';

/** The development tools as they are called here: on this Node, from the root folder. */

const LINTED = ['build', 'core', 'drivers', 'electron', 'renderer', 'tests'];
const FORMATTED = [...LINTED, 'package.json', 'tsconfig.json'];

const prettier = (flag: string): readonly string[] => [
  'node_modules/prettier/bin/prettier.cjs',
  flag,
  '--log-level=warn',
  ...FORMATTED,
];

/** Each tool as the arguments of a Node. */
export const tools = {
  format: prettier('--write'),
  formatted: prettier('--check'),
  lint: [
    'node_modules/oxlint/bin/oxlint',
    '--config=build/oxlint.json',
    '--disable-nested-config',
    '--type-aware',
    '--deny-warnings',
    '--report-unused-disable-directives',
    ...LINTED,
  ],
  layers: ['build/scripts/layers.ts'],
  types: ['node_modules/typescript/bin/tsc', '--build', 'tsconfig.json'],
  tests: ['node_modules/vitest/vitest.mjs', 'run', '--config=build/vitest.config.ts'],
} as const satisfies Record<string, readonly string[]>;

/** Runs one of them; settles with its exit code. */
export const runTool = (
  tool: keyof typeof tools,
  more: readonly string[] = [],
): Promise<number> => {
  process.chdir(rootFolder);
  const [script, ...args] = tools[tool];
  return passOn(process.execPath, [path.join(rootFolder, script ?? ''), ...args, ...more]);
};
