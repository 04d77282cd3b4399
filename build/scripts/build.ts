import { cpSync, rmSync } from 'node:fs';
import path from 'node:path';
import { build } from 'vite';
import { guestConfig } from '../vite/guest.ts';
import { hostsConfig, preloadConfig } from '../vite/hosts.ts';
import { rendererConfig } from '../vite/renderer.ts';
import { rootFolder } from './prepare.mjs';
import { writeLicences } from './writeLicences.ts';

/**
 * The production build: `dist/renderer` (the page), `dist/guest` (the page for guests) and `dist/electron` (hosts and preload). Prints
 * nothing but errors; with VERBOSE set, what the bundler says too.
 */

process.env.NODE_ENV = 'production';
const logLevel = process.env['VERBOSE'] ? 'info' : 'error';
rmSync(path.join(rootFolder, 'dist'), { recursive: true, force: true });

// Papers are laid out in the same face as the page.
for (const weight of [400, 700]) {
  const face = `b612-latin-${weight}-normal.woff`;
  cpSync(
    path.join(rootFolder, 'node_modules/@fontsource/b612/files', face),
    path.join(rootFolder, 'dist/fonts', face),
  );
}

writeLicences(rootFolder);

const configs = [
  rendererConfig(rootFolder),
  guestConfig(rootFolder),
  hostsConfig(rootFolder),
  preloadConfig(rootFolder),
];
const done = await Promise.allSettled(
  configs.map((config) => build({ ...config, configFile: false, logLevel })),
);
const failures = done.filter((one) => one.status === 'rejected');
for (const { reason } of failures) process.stderr.write(`${String(reason)}\n`);
// Said outright: a plugin may keep a handle open.
process.exit(failures.length > 0 ? 1 : 0);
