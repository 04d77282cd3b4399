import { z } from 'zod';

/**
 * Schemas are compiled with `new Function` where that is allowed, and zod tries it out: under a
 * content policy without `unsafe-eval` the trial alone is reported as a violation. The screen calls
 * this before it parses anything.
 */
export const parseWithoutEval = (): void => {
  z.config({ jitless: true });
};
