import type { ReactElement } from 'react';
import type { Item } from '../../../core/sheet/items.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { quantityField } from '../../parts/understandQuantity.ts';
import { AS_READ, type UseReading } from './useReading.ts';
import styles from './Screen.module.css';

const READ_BY_HAND: readonly Item['kind'][] = ['height', 'toe', 'camber'];

/** Fills the field with what the gauge reads on the practice car; the person still keeps it. */
export const PracticeReading = ({
  item,
  reading,
}: {
  readonly item: Item;
  readonly reading: UseReading;
}): ReactElement | null => {
  const { note, give } = useCommand();
  if (!READ_BY_HAND.includes(item.kind) || !reading.fields.some(({ what }) => what === AS_READ))
    return null;
  const read = async (): Promise<void> => {
    const result = await give({ do: 'read practice gauge', item: item.id });
    if (result?.is === 'practice gauge read')
      reading.setText(AS_READ, quantityField(reading.wanted, result.value));
  };
  return (
    <div className={styles['practice']}>
      <Tag kind="practice">practice car</Tag>
      <PushButton onPress={() => void read()}>Read the practice gauge</PushButton>
      {note?.kind === 'refused' ? <NoteLine note={note} /> : null}
    </div>
  );
};
