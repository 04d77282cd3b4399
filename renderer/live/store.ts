/** A value that can be watched: all that the screen keeps outside React. */
export interface Store<T> {
  get(): T;
  /** Calls back after each change until its answer is called. */
  subscribe(changed: () => void): () => void;
}

export interface WritableStore<T> extends Store<T> {
  /** Sets the value; the same value again tells nobody. */
  set(value: T): void;
}

/** Makes a store. */
export const createStore = <T>(first: T): WritableStore<T> => {
  let value = first;
  const watchers = new Set<() => void>();
  return {
    get: () => value,
    set: (next) => {
      if (Object.is(next, value)) return;
      value = next;
      for (const changed of watchers) changed();
    },
    subscribe: (changed) => {
      watchers.add(changed);
      return () => {
        watchers.delete(changed);
      };
    },
  };
};
