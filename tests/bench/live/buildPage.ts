import react from '@vitejs/plugin-react';
import { build } from 'vite';
import { NONCE_PLACEHOLDER } from '../../../build/vite/renderer.ts';

/** Builds the benchmark's page for production, as the app's own page is built. */
export const buildPage = async (folder: string): Promise<void> => {
  await build({
    root: import.meta.dirname,
    base: './',
    publicDir: false,
    logLevel: 'warn',
    plugins: [react()],
    html: { cspNonce: NONCE_PLACEHOLDER },
    build: {
      outDir: folder,
      emptyOutDir: true,
      modulePreload: { polyfill: false },
      chunkSizeWarningLimit: 4096,
    },
  });
};
