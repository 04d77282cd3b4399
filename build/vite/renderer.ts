import path from 'node:path';
import react from '@vitejs/plugin-react';
import type { UserConfig } from 'vite';

/**
 * The literal that stands for the nonce in `dist/renderer/index.html`. Whoever serves the page puts
 * a new nonce in its place in every response. It stands in `<meta property="csp-nonce" nonce=…>`,
 * which the bundler writes and react-aria reads, and on each script and style sheet tag.
 */
export const NONCE_PLACEHOLDER = '__CSP_NONCE__';

/** The page: `renderer/index.html` and what it asks for, to `dist/renderer`. */
export const rendererConfig = (root: string): UserConfig => ({
  root: path.join(root, 'renderer'),
  // Relative, so that it is the same page over HTTP and over the desktop window's own scheme.
  base: './',
  publicDir: false,
  plugins: [react()],
  html: { cspNonce: NONCE_PLACEHOLDER },
  build: {
    outDir: path.join(root, 'dist/renderer'),
    emptyOutDir: true,
    // A data: address or an inline script would need a hole in the content policy.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    // One style sheet, so that nothing flashes and the policy has one thing to allow.
    cssCodeSplit: false,
    reportCompressedSize: false,
    // One bundle, read from the same disk: size warnings are for pages over a network.
    chunkSizeWarningLimit: 4096,
  },
});
