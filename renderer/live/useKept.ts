import { useEffect, useState } from 'react';
import type { KeptKind, KeptOf } from '../../core/contract/kept.ts';
import { useClient, useView } from './useLive.tsx';

/**
 * The kept records of a kind, oldest first, read again when any was kept; null until they were read.
 * Of one subject, or of all (null).
 */
export const useKept = <K extends KeptKind>(
  kind: K,
  subject: string | null = null,
): readonly KeptOf<K>[] | null => {
  const client = useClient();
  const kept = useView(({ state }) => state?.kept ?? 0);
  const practice = useView(({ state }) => state?.source ?? null);
  const [records, setRecords] = useState<readonly KeptOf<K>[] | null>(null);
  useEffect(() => {
    let isOver = false;
    void client.command({ do: 'open kept', kind, subject }).then((outcome) => {
      if (isOver || !outcome.ok || outcome.result.is !== 'kept') return;
      setRecords(
        outcome.result.records.filter((record): record is KeptOf<K> => record.kind === kind),
      );
    });
    return () => {
      isOver = true;
    };
  }, [client, kind, subject, kept, practice]);
  return records;
};
