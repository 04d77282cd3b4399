import path from 'node:path';
import { defineConfig } from 'vitest/config';
import { ClosingLines } from './closingLines.ts';

const root = path.resolve(import.meta.dirname, '..');

/** Walks through the app in a browser: they wait for a car to stand still, not for a clock; two at a time. */
const WALKS = [
  'adjust',
  'backups',
  'byKeyboard',
  'byTouch',
  'calibrate',
  'firstMinute',
  'flatPatch',
  'garage',
  'help',
  'measure',
  'pictures',
  'practiceWalk',
  'results',
  'scrutineering',
  'wholeCycle',
].map((name) => `tests/browser/${name}.test.ts`);

/**
 * Tests that look at a clock, with a browser, a radio or programs that are killed: one file at a time,
 * after the others, so that nothing of ours disturbs them.
 */
const REAL_TIME = [
  'tests/browser/**/*.test.{ts,tsx}',
  'tests/virtual-radio/**/*.test.{ts,tsx}',
  'tests/drivers/store/kill.test.ts',
];

/** What both kinds share. */
const inRealTime = {
  setupFiles: 'tests/support/failOnLeaks.ts',
  pool: 'forks',
  testTimeout: 120_000,
  hookTimeout: 60_000,
} as const;

export default defineConfig({
  root,
  // The product's tsconfig files are for the type checker: what JSX becomes is said here.
  oxc: { jsx: { runtime: 'automatic' } },
  test: {
    reporters: [process.stdout.isTTY ? 'default' : 'dot', new ClosingLines()],
    projects: [
      {
        extends: true,
        test: {
          name: 'quick',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: REAL_TIME,
          setupFiles: ['tests/support/failOnLeaks.ts'],
          pool: 'forks',
          testTimeout: 20_000,
          hookTimeout: 20_000,
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          name: 'walks',
          include: WALKS,
          ...inRealTime,
          maxWorkers: 2,
          sequence: { groupOrder: 1 },
        },
      },
      {
        extends: true,
        test: {
          name: 'real time',
          include: REAL_TIME,
          exclude: WALKS,
          ...inRealTime,
          fileParallelism: false,
          sequence: { groupOrder: 2 },
        },
      },
    ],
  },
});
