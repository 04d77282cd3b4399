import { useState, type ReactElement } from 'react';
import { CORNER_NAMES, type Corner } from '../../../core/corners.ts';
import type { PracticeHappening } from '../../../core/contract/practiceRun.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './PracticeStrip.module.css';

type Happens = 'surprise' | 'nothing' | PracticeHappening['what'];

/** Large enough to be found with care, small enough to be missed without. */
const TOE = -0.006;
const DROP = 0.003;
const BURNT = 12;

const happening = (what: PracticeHappening['what'], corner: Corner): PracticeHappening => {
  switch (what) {
    case 'bent toe link':
      return { what, corner, toe: TOE };
    case 'dropped seat':
      return { what, corner, by: DROP };
    case 'fuel burnt':
      return { what, mass: BURNT };
  }
};

const asSent = (happens: Happens, corner: Corner): readonly PracticeHappening[] | 'surprise' => {
  if (happens === 'surprise') return happens;
  return happens === 'nothing' ? [] : [happening(happens, corner)];
};

const inWords = (one: PracticeHappening): string => {
  switch (one.what) {
    case 'bent toe link':
      return `${CORNER_NAMES[one.corner]} toe link bent, toe ${one.toe < 0 ? 'out' : 'in'} ${Math.abs((one.toe * 180) / Math.PI).toFixed(2)}°`;
    case 'dropped seat':
      return `${CORNER_NAMES[one.corner]} spring seat dropped ${(one.by * 1000).toFixed(1)} mm`;
    case 'fuel burnt':
      return `${one.mass.toFixed(1)} kg of fuel burnt`;
  }
};

const told = (runs: readonly (readonly PracticeHappening[])[]): string =>
  runs
    .map((run, i) => `Run ${i + 1}: ${run.length === 0 ? 'nothing' : run.map(inWords).join('; ')}.`)
    .join(' ');

/** Sends the raised practice car on a run, and says what happened only when asked. */
export const PracticeRunHands = ({ corner }: { readonly corner: Corner }): ReactElement => {
  const [happens, setHappens] = useState<Happens>('surprise');
  const [answer, setAnswer] = useState<string | null>(null);
  const { note, give } = useCommand();
  const name = CORNER_NAMES[corner];
  const send = async (): Promise<void> => {
    setAnswer(null);
    const sent = asSent(happens, corner);
    await give(
      { do: 'send practice car out', happens: sent === 'surprise' ? sent : [...sent] },
      { doing: 'Out.', done: () => 'Back from the run. Lower it and measure.' },
    );
  };
  const ask = async (): Promise<void> => {
    const result = await give({ do: 'tell practice runs' });
    setAnswer(result?.is === 'practice runs' ? told(result.runs) : null);
  };
  return (
    <div className={styles['run']}>
      <Pick<Happens>
        label="What happens on the run"
        labelUnseen
        options={[
          { value: 'surprise', text: 'surprise' },
          { value: 'nothing', text: 'nothing' },
          { value: 'bent toe link', text: `${name} toe link bent` },
          { value: 'dropped seat', text: `${name} seat dropped` },
          { value: 'fuel burnt', text: 'fuel burnt' },
        ]}
        value={happens}
        onChange={setHappens}
      />
      <PushButton small onPress={() => void send()}>
        Send it out
      </PushButton>
      <PushButton small onPress={() => void ask()}>
        What happened?
      </PushButton>
      {note ? <NoteLine note={note} /> : null}
      {answer === null ? null : <p className={styles['told']}>{answer}</p>}
    </div>
  );
};
