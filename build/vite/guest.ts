import path from 'node:path';
import type { UserConfig } from 'vite';

/**
 * The page for guests: `renderer/guest/index.html` and what it asks for, to `dist/guest`, a folder of its
 * own so that the port that is open to the network can serve nothing else. All of it in files, nothing
 * inline: its policy has no nonce.
 */
export const guestConfig = (root: string): UserConfig => ({
  root: path.join(root, 'renderer/guest'),
  base: './',
  publicDir: false,
  build: {
    outDir: path.join(root, 'dist/guest'),
    emptyOutDir: true,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    cssCodeSplit: false,
    reportCompressedSize: false,
  },
});
