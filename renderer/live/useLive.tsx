import {
  createContext,
  useCallback,
  useContext,
  useMemo,
  useRef,
  useSyncExternalStore,
  type ReactNode,
} from 'react';
import type { Frame } from '../../core/contract/events.ts';
import type { BenchClient, BenchView } from './benchClient.ts';
import type { FrameLoop } from './frameLoop.ts';
import type { Store } from './store.ts';

interface Joined {
  readonly client: BenchClient;
  readonly loop: FrameLoop;
}

const JoinedContext = createContext<Joined | null>(null);

/** Hands the bench client and the frame loop to the screens below. */
export const LiveProvider = ({
  client,
  loop,
  children,
}: Joined & { readonly children: ReactNode }): ReactNode => {
  const value = useMemo(() => ({ client, loop }), [client, loop]);
  return <JoinedContext value={value}>{children}</JoinedContext>;
};

const useJoined = (): Joined => {
  const joined = useContext(JoinedContext);
  if (!joined) throw new Error('a screen stands outside LiveProvider');
  return joined;
};

export const useClient = (): BenchClient => useJoined().client;
export const useFrameLoop = (): FrameLoop => useJoined().loop;

/**
 * A part of a store's value, chosen by `select`: the component renders again only when that part is
 * no longer equal. The part must be made of the store's value alone and what the component holds.
 */
const useSelected = <T, P>(
  store: Store<T>,
  select: (value: T) => P,
  equal: (a: P, b: P) => boolean = Object.is,
): P => {
  const last = useRef<{ readonly part: P } | null>(null);
  const snapshot = useCallback((): P => {
    const part = select(store.get());
    if (last.current && equal(last.current.part, part)) return last.current.part;
    last.current = { part };
    return part;
  }, [store, select, equal]);
  return useSyncExternalStore(store.subscribe, snapshot);
};

/** Equal when every field is the same. */
export const sameFields = <T extends object>(a: T | null, b: T | null): boolean => {
  if (a === b) return true;
  if (!a || !b) return false;
  const keys = Object.keys(a) as (keyof T)[];
  return keys.length === Object.keys(b).length && keys.every((key) => Object.is(a[key], b[key]));
};

/** A part of what the bench says of itself. */
export const useView = <P,>(select: (view: BenchView) => P, equal?: (a: P, b: P) => boolean): P =>
  useSelected(useClient().view, select, equal);

/** A part of the newest frame as it may be shown now. */
export const useFrame = <P,>(
  select: (frame: Frame | null) => P,
  equal?: (a: P, b: P) => boolean,
): P => useSelected(useClient().live, select, equal);
