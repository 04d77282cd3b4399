import { useCallback, useEffect, useMemo, useState } from 'react';

export interface Told<T> {
  /** What is kept, with what was told since in its place or behind it. */
  readonly all: readonly T[];
  readonly tell: (each: T) => void;
  /** Takes back what could not be kept. */
  readonly takeBack: (id: string) => void;
}

/**
 * What was told stands until it is read back from the bench, so that the next change builds on it and
 * nobody who types fast waits for it.
 */
export const useTold = <T extends { readonly id: string }>(kept: readonly T[]): Told<T> => {
  const [told, setTold] = useState<ReadonlyMap<string, T>>(() => new Map<string, T>());
  useEffect(() => {
    setTold((before) => {
      const open = [...before].filter(([id, each]) => {
        const back = kept.find((one) => one.id === id);
        return !back || JSON.stringify(back) !== JSON.stringify(each);
      });
      return open.length === before.size ? before : new Map(open);
    });
  }, [kept]);
  const all = useMemo(
    () =>
      told.size === 0
        ? kept
        : [...new Map([...kept.map((each) => [each.id, each] as const), ...told]).values()],
    [kept, told],
  );
  const tell = useCallback(
    (each: T): void => setTold((before) => new Map(before).set(each.id, each)),
    [],
  );
  const takeBack = useCallback(
    (id: string): void => setTold((before) => new Map([...before].filter(([each]) => each !== id))),
    [],
  );
  return { all, tell, takeBack };
};
