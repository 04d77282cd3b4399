import { useState, type ReactElement } from 'react';
import { walkProgress } from '../../../core/sheet/nextInWalk.ts';
import { CautionNote } from '../Balance/CautionNote.tsx';
import { AddToWalk } from './AddToWalk.tsx';
import { BeginRecord } from './BeginRecord.tsx';
import { ItemPanel } from './ItemPanel.tsx';
import { RecordBar } from './RecordBar.tsx';
import type { Measure } from './useMeasure.ts';
import { useWalk } from './useWalk.ts';
import { WalkList } from './WalkList.tsx';
import { WeighPanel } from './WeighPanel.tsx';
import { WorkPanel } from './WorkPanel.tsx';
import styles from './Screen.module.css';

/** Where one stands in the walk, and how often one went somewhere: each time the field takes the keys. */
interface Standing {
  readonly itemId: string;
  readonly turn: number;
}

/** One guided walk round the car: the list, and the item that is being read. */
export const WalkPart = ({
  measure,
  onSheet,
}: {
  readonly measure: Measure;
  readonly onSheet: () => void;
}): ReactElement => {
  const { record, sources } = measure;
  const seen = useWalk(measure);
  const [standing, setStanding] = useState<Standing | null>(null);
  const [isBeginning, setBeginning] = useState(false);
  if (!record || !sources || isBeginning)
    return (
      <BeginRecord
        measure={measure}
        onSheet={onSheet}
        onBegun={(recordId) => {
          measure.open(recordId);
          setStanding(null);
          setBeginning(false);
        }}
        onLeave={record ? () => setBeginning(false) : null}
      />
    );
  const { walk } = seen;
  const itemId =
    standing && sources.items.has(standing.itemId)
      ? standing.itemId
      : (seen.next?.id ?? walk[0]?.id ?? null);
  const item = itemId === null ? null : (sources.items.get(itemId) ?? null);
  const turn = standing?.turn ?? 0;
  const go = (next: string): void => setStanding({ itemId: next, turn: turn + 1 });
  const goOn = (): void => {
    const { next } = walkProgress(record, walk, itemId);
    if (next && next.id !== itemId) go(next.id);
  };
  const back = (): void => {
    const place = walk.findIndex(({ id }) => id === itemId);
    const before = walk[place - 1];
    if (before) go(before.id);
  };
  return (
    <>
      <RecordBar measure={measure} onBegin={() => setBeginning(true)} />
      <div className={styles['walk']}>
        <div className={styles['current']}>
          <CautionNote state={measure.state} />
          {item ? (
            <ItemPanel
              key={`${record.id} ${item.id}`}
              measure={measure}
              sources={sources}
              record={record}
              item={item}
              turn={turn}
              onNext={goOn}
              onBack={back}
            />
          ) : (
            <p className={styles['help']}>Nothing is asked for yet: put items into the walk.</p>
          )}
        </div>
        <div className={styles['beside']}>
          <WeighPanel measure={measure} sources={sources} record={record} />
          <WorkPanel measure={measure} record={record} />
        </div>
        <div className={styles['list']}>
          <WalkList
            measure={measure}
            sources={sources}
            record={record}
            seen={seen}
            itemId={itemId}
            onGo={go}
          />
          <AddToWalk measure={measure} sources={sources} record={record} item={item} />
        </div>
      </div>
    </>
  );
};
