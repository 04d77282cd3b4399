import { registerHooks } from 'node:module';

/**
 * Loaded before a program with `--import`: whatever imports `electron` is given the stand-in. It
 * shows order, ports, gate and restart as they are; a sandbox and separate worlds it does not have.
 */
registerHooks({
  resolve: (specifier, context, next) =>
    specifier === 'electron'
      ? { url: new URL('./electron.ts', import.meta.url).href, shortCircuit: true }
      : next(specifier, context),
});
