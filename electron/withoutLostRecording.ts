import type { StorePort } from '../core/bench/storePort.ts';

/**
 * The store as this start finds it. A recording that was played last cannot be played again without
 * its file, which only the flag names: then nothing was used last, and the bench asks.
 */
export const withoutLostRecording = (store: StorePort, recordingFile: string | null): StorePort => {
  if (recordingFile !== null) return store;
  return {
    ...store,
    load: () => {
      const remembered = store.load();
      return remembered.source === 'recording' ? { ...remembered, source: null } : remembered;
    },
  };
};
