import type { ReactElement } from 'react';
import type { PrintWhat } from '../../../core/contract/print.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { usePrint } from '../../parts/usePrint.ts';
import styles from './Screen.module.css';

/** On paper for a clipboard, or as numbers. */
export const PrintButtons = ({ what }: { readonly what: PrintWhat }): ReactElement => {
  const { note, print } = usePrint();
  return (
    <div className={styles['buttons']}>
      <PushButton small onPress={() => void print({ what, form: 'pdf' })}>
        PDF
      </PushButton>
      <PushButton small onPress={() => void print({ what, form: 'csv' })}>
        CSV
      </PushButton>
      {note ? <NoteLine note={note} /> : null}
    </div>
  );
};
