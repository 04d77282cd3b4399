import { useState, type ReactElement } from 'react';
import { Input } from 'react-aria-components/Input';
import { Label } from 'react-aria-components/Label';
import { TextField } from 'react-aria-components/TextField';
import { gravityNote } from '../../../core/answers/gravityNote.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { notAside } from '../../../core/garage/notAside.ts';
import { clockShown } from '../../clockShown.ts';
import { cx } from '../../parts/cx.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { CarFields } from './CarFields.tsx';
import { StudyPanel } from './StudyPanel.tsx';
import { VenueFields } from './VenueFields.tsx';
import styles from './OutingPanel.module.css';

const NewOuting = ({ state }: { readonly state: BenchState }): ReactElement => {
  const [name, setName] = useState('');
  const { note, give } = useCommand();
  const begin = async (): Promise<void> => {
    const begun = await give(
      { do: 'begin outing', name: name.trim() },
      { doing: 'Beginning the outing.', done: () => 'Begun; its log is empty.' },
    );
    if (begun) setName('');
  };
  return (
    <section className={styles['part']}>
      <h2>{state.outing.name}</h2>
      <p className={styles['since']}>since {clockShown(state.outing.begunAt)}</p>
      <div className={styles['new']}>
        <TextField className={cx(styles['field'])} value={name} onChange={setName} maxLength={80}>
          <Label>Next outing</Label>
          <Input className={cx(styles['input'])} placeholder="its name" />
        </TextField>
        <PushButton isDisabled={name.trim() === ''} onPress={() => void begin()}>
          Begin
        </PushButton>
      </div>
      <NoteLine note={note} />
    </section>
  );
};

/** The outing, the car and the venue: what every capture is stored with. */
export const OutingPanel = ({ state }: { readonly state: BenchState }): ReactElement => (
  <div className={styles['panel']}>
    <NewOuting state={state} />
    <CarFields car={state.car} cars={notAside(state.cars, state)} />
    <VenueFields
      venue={state.venue}
      venues={notAside(state.venues, state)}
      gravity={state.gravity}
      note={gravityNote(state, null)}
    />
    <section className={styles['part']}>
      <h2>Repeatability</h2>
      <StudyPanel state={state} />
    </section>
  </div>
);
