import { useEffect, useState } from 'react';
import type { Capture } from '../../core/contract/records.ts';
import { useClient, useView } from './useLive.tsx';

/** The captures of these ids that are in the database, read again when one of this outing changed. */
export const useCaptures = (ids: readonly string[]): ReadonlyMap<string, Capture> => {
  const client = useClient();
  const marks = useView(({ state }) =>
    JSON.stringify(state?.captures.map(({ id, setAside, zeroShift }) => [id, setAside, zeroShift])),
  );
  const asked = JSON.stringify([...new Set(ids)].toSorted());
  const [captures, setCaptures] = useState<ReadonlyMap<string, Capture>>(new Map());
  useEffect(() => {
    let isOver = false;
    const wanted = JSON.parse(asked) as string[];
    void client.command({ do: 'open captures', ids: wanted }).then((outcome) => {
      if (isOver || !outcome.ok || outcome.result.is !== 'captures') return;
      setCaptures(new Map(outcome.result.captures.map((capture) => [capture.id, capture])));
    });
    return () => {
      isOver = true;
    };
  }, [client, asked, marks]);
  return captures;
};
