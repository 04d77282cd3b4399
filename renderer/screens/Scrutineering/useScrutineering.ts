import { useEffect, useMemo, useRef, useState } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import type { Authority, KeptPair } from '../../../core/contract/scrutineering.ts';
import { dayOfTime } from '../../../core/format/day.ts';
import { boardSources, wishedOf } from '../../../core/scrutineering/boardSources.ts';
import {
  limitedItems,
  type BoardItem,
  type BoardSources,
} from '../../../core/scrutineering/limitedItems.ts';
import {
  authoritiesKept,
  pairsKept,
  type KeptAuthority,
} from '../../../core/scrutineering/keptScrutineering.ts';
import { marginBoard, type MarginRow } from '../../../core/scrutineering/marginBoard.ts';
import { useKept } from '../../live/useKept.ts';
import type { RecordsHere } from '../../live/useRecords.ts';
import { newId } from '../../newId.ts';
import { keepCommand } from '../../parts/keepCommand.ts';
import { useCommand, type CommandNote } from '../../parts/useCommand.ts';

const isSame = (a: Authority, b: Authority): boolean => JSON.stringify(a) === JSON.stringify(b);

/** All that the parts of the screen are made from. */
export interface Scrutineering {
  readonly state: BenchState;
  readonly here: RecordsHere;
  readonly authorities: readonly KeptAuthority[];
  readonly chosen: KeptAuthority | null;
  readonly choose: (id: string) => void;
  readonly pairs: readonly { readonly pair: KeptPair; readonly isAside: boolean }[];
  readonly sources: BoardSources;
  readonly items: readonly BoardItem[];
  readonly rows: readonly MarginRow[];
  readonly wished: number;
  readonly addAuthority: (authority: Authority) => void;
  /** Changes the chosen one. */
  readonly changeAuthority: (change: (authority: Authority) => Authority) => void;
  readonly keepPair: (pair: KeptPair, isAside?: boolean) => Promise<boolean>;
  readonly note: CommandNote | null;
}

/** Null until the kept records were read. */
export const useScrutineering = (
  state: BenchState,
  here: RecordsHere | null,
): Scrutineering | null => {
  const authorityRecords = useKept('authority');
  const pairRecords = useKept('pair');
  const [chosenId, choose] = useState<string | null>(null);
  const { note, give } = useCommand();
  const authorities = useMemo(() => authoritiesKept(authorityRecords ?? []), [authorityRecords]);
  const pairs = useMemo(() => pairsKept(pairRecords ?? []), [pairRecords]);
  const chosen = authorities.find(({ id }) => id === chosenId) ?? authorities[0] ?? null;
  const { car, captures, settings } = state;
  const day = dayOfTime(state.wallAt);

  const sources = useMemo((): BoardSources | null => {
    if (!here) return null;
    const records = here.records.flatMap((record) => here.sourcesOf(record) ?? []);
    return boardSources({
      on: { car, captures, settings },
      records,
      authorities,
      pairs,
      chosen,
      day,
    });
  }, [here, car, captures, settings, chosen, authorities, pairs, day]);
  const items = useMemo(() => (sources ? limitedItems(sources) : []), [sources]);
  const wished = wishedOf(chosen);
  const rows = useMemo(
    () =>
      marginBoard(
        items.map(({ limited }) => limited),
        wished,
      ),
    [items, wished],
  );
  // A second change before the first was read again starts from the first.
  const sent = useRef(new Map<string, Authority>());
  useEffect(() => {
    for (const [id, authority] of sent.current)
      if (
        authorityRecords?.some(
          (record) => record.subject === id && isSame(record.authority, authority),
        )
      )
        sent.current.delete(id);
  }, [authorityRecords]);
  if (!here || !sources || !authorityRecords || !pairRecords) return null;
  const words = { doing: 'Storing.', done: () => 'Stored.' };
  const keepAuthority = (id: string, authority: Authority): void => {
    sent.current.set(id, authority);
    void give(
      keepCommand({ kind: 'authority', subject: id, authority, isAside: false }),
      words,
    ).then((result) => {
      if (!result) sent.current.delete(id);
    });
  };
  return {
    state,
    here,
    authorities,
    chosen,
    choose,
    pairs: chosen ? (pairs.get(chosen.id) ?? []) : [],
    sources,
    items,
    rows,
    wished,
    note,
    addAuthority: (authority) => {
      const id = newId();
      keepAuthority(id, authority);
      choose(id);
    },
    changeAuthority: (change) => {
      if (!chosen) return;
      keepAuthority(chosen.id, change(sent.current.get(chosen.id) ?? chosen.authority));
    },
    keepPair: async (pair, isAside = false) =>
      chosen !== null &&
      (await give(keepCommand({ kind: 'pair', subject: chosen.id, pair, isAside }), words)) !==
        null,
  };
};
