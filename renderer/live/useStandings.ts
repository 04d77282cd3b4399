import { useEffect, useRef, useState } from 'react';
import type { Standings } from '../../core/contract/standings.ts';
import type { BenchView } from './benchClient.ts';
import { useClient, useView } from './useLive.tsx';

/** Often enough for a glance, and seldom enough that nobody's command waits for it. */
const EVERY_MS = 1000;
const MINUTE_MS = 60_000;

/** Whose standings they are. */
const ofWhom = ({ joined, state }: BenchView): string | null =>
  joined && state ? `${state.car.id} ${state.source ?? ''}` : null;

/** All that may change a standing, as text; once a minute the day itself. Null while nobody can be asked. */
const madeOf = ({ joined, state }: BenchView): string | null =>
  joined && state
    ? JSON.stringify([
        state.kept,
        state.source,
        state.settings,
        state.car,
        state.cars,
        state.venues,
        state.gravity,
        state.aside,
        state.massSets,
        state.copies,
        state.captures.map(({ id, setAside, zeroShift }) => [id, setAside, zeroShift]),
        state.pads.map(({ serial, calibration, check }) => [serial, calibration?.id, check?.at]),
        Math.floor(state.wallAt / MINUTE_MS),
      ])
    : null;

/** How the answers stand that are made of kept records; null while that is not known of the car in hand. */
export const useStandings = (): Standings | null => {
  const client = useClient();
  const made = useView(madeOf);
  const whom = useView(ofWhom);
  const [known, setKnown] = useState<{
    readonly of: string | null;
    readonly standings: Standings;
  } | null>(null);
  const askedAt = useRef(-Infinity);
  /** Goes up with each time that what was read has to be asked for again. */
  const [lacking, setLacking] = useState(0);
  useEffect(() => {
    if (made === null) return;
    let isOver = false;
    const ask = (): void => {
      askedAt.current = performance.now();
      const of = ofWhom(client.view.get());
      void client.command({ do: 'open standings' }).then((outcome) => {
        if (!outcome.ok || outcome.result.is !== 'standings') return;
        const { standings } = outcome.result;
        setKnown({ of, standings });
        if (!isOver && Object.values(standings).includes(null)) setLacking((count) => count + 1);
      });
    };
    const timer = setTimeout(ask, Math.max(0, askedAt.current + EVERY_MS - performance.now()));
    return () => {
      isOver = true;
      clearTimeout(timer);
    };
  }, [client, made, lacking]);
  return whom !== null && known?.of === whom ? known.standings : null;
};
