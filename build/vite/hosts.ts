import { builtinModules } from 'node:module';
import path from 'node:path';
import type { UserConfig } from 'vite';

/** What stays outside the bundles: native code, what brings files of its own, what is found at run time, and Node itself. */
const EXTERNAL: readonly (string | RegExp)[] = [
  'electron',
  'better-sqlite3',
  'ws',
  'pdfkit',
  'qrcode',
  'highs',
  /^@abandonware\//,
  /^node:/,
  ...builtinModules,
];

/**
 * The programs that run on Node or in Electron: the window's main process, the page's host and the
 * bench process. All files lie side by side in `dist/electron`, shared pieces too, so that a path
 * relative to `import.meta.url` means the same in each (`../renderer` is the page).
 */
export const hostsConfig = (root: string): UserConfig => ({
  root,
  publicDir: false,
  build: {
    ssr: true,
    target: 'node24',
    outDir: path.join(root, 'dist/electron'),
    emptyOutDir: false,
    minify: false,
    sourcemap: true,
    rolldownOptions: {
      input: {
        main: path.join(root, 'electron/main.ts'),
        pageHost: path.join(root, 'electron/pageHost.ts'),
        benchProcess: path.join(root, 'electron/benchProcess.ts'),
        solverWorker: path.join(root, 'drivers/solver/solverWorker.ts'),
        backupWorker: path.join(root, 'drivers/store/backupWorker.ts'),
      },
      external: [...EXTERNAL],
      output: {
        format: 'es',
        entryFileNames: '[name].js',
        chunkFileNames: 'shared-[hash].js',
      },
    },
  },
  // Pure packages (zod) go into the bundle: fewer files to open at a start.
  ssr: { noExternal: true, external: [] },
});

/** The preload script: one CommonJS file, the only kind that a sandboxed window runs. */
export const preloadConfig = (root: string): UserConfig => ({
  root,
  publicDir: false,
  build: {
    ssr: true,
    target: 'node24',
    outDir: path.join(root, 'dist/electron'),
    emptyOutDir: false,
    minify: false,
    rolldownOptions: {
      input: { preload: path.join(root, 'electron/preload.ts') },
      external: ['electron'],
      output: { format: 'cjs', entryFileNames: '[name].cjs', codeSplitting: false },
    },
  },
  ssr: { noExternal: true, external: [] },
});
