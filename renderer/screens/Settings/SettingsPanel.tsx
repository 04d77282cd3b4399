import { useState, type ReactElement } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import { Choice } from '../../parts/Choice.tsx';
import { GuestPanel } from './GuestPanel.tsx';
import { SettingsFields } from './SettingsFields.tsx';
import styles from './SettingsPanel.module.css';

const PARTS = [
  { value: 'choices', text: 'choices' },
  { value: 'guests', text: 'under the car' },
] as const;

/** The settings: what the crew chose once, and the devices that read along. */
export const SettingsPanel = ({ state }: { readonly state: BenchState }): ReactElement => {
  const [part, setPart] = useState<(typeof PARTS)[number]['value']>('choices');
  return (
    <div className={styles['panel']}>
      <Choice label="Settings" labelUnseen options={PARTS} value={part} onChange={setPart} />
      {part === 'choices' ? (
        <SettingsFields settings={state.settings} />
      ) : (
        <GuestPanel state={state} />
      )}
    </div>
  );
};
