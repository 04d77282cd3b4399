import { useEffect, useState } from 'react';
import type { SeasonPoint, TheirReading } from '../../core/contract/season.ts';
import type { SeasonFilter } from '../../core/sheet/seasonOf.ts';
import { useClient, useView } from './useLive.tsx';

/** The trace of an item over the records asked for, read again when any was kept. */
export const useSeason = (
  item: string,
  { carId, venueId, phase }: SeasonFilter,
): {
  /** What was asked last and read; null until anything was. */
  readonly points: readonly SeasonPoint[];
  /** What scrutineers read of it. */
  readonly theirs: readonly TheirReading[];
  /** The item that both are of. */
  readonly item: string;
} | null => {
  const client = useClient();
  const kept = useView(({ state }) => state?.kept ?? 0);
  const practice = useView(({ state }) => state?.source ?? null);
  const [season, setSeason] = useState<ReturnType<typeof useSeason>>(null);
  useEffect(() => {
    let isOver = false;
    const asked = { do: 'open season', item, filter: { carId, venueId, phase } } as const;
    void client.command(asked).then((outcome) => {
      if (isOver || !outcome.ok || outcome.result.is !== 'season') return;
      const { points, theirs } = outcome.result;
      setSeason({ points, theirs, item });
    });
    return () => {
      isOver = true;
    };
  }, [client, item, carId, venueId, phase, kept, practice]);
  return season;
};
