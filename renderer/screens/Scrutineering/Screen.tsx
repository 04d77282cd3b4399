import { useState, type ReactElement } from 'react';
import { READING } from '../../../core/answers/answer.ts';
import { scrutineeringAnswer } from '../../../core/answers/scrutineeringAnswer.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { typedNumber } from '../../../core/format/typed.ts';
import { newAuthority } from '../../../core/scrutineering/keptScrutineering.ts';
import { scrutineeringWorked } from '../../../core/help/scrutineeringWorked.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { useRecords } from '../../live/useRecords.ts';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { Choice } from '../../parts/Choice.tsx';
import { Field, type Understood } from '../../parts/Field.tsx';
import { HowWorkedOut } from '../../parts/HowWorkedOut.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { understandName } from '../../parts/understandName.ts';
import { Ballast } from './Ballast.tsx';
import { Board } from './Board.tsx';
import styles from './Screen.module.css';
import { TheirReadings } from './TheirReadings.tsx';
import { useScrutineering, type Scrutineering } from './useScrutineering.ts';
import { wantedOf } from '../../../core/format/wantedOf.ts';

const QUESTION = 'Will it pass?';

const PARTS = ['board', 'readings', 'ballast'] as const;
type Part = (typeof PARTS)[number];
const PART_TEXT: Readonly<Record<Part, string>> = {
  board: 'Margin board',
  readings: 'Their readings',
  ballast: 'Ballast',
};

const understandWished = (text: string): Understood<number> => {
  const typed = typedNumber(text, '%');
  if (!typed.ok) return typed;
  return typed.value > 50 && typed.value < 100
    ? { ok: true, value: typed.value / 100, said: `${String(typed.value)} %` }
    : { ok: false, why: 'Between 50 and 100 %, for example 99.' };
};

const Authorities = ({ own }: { readonly own: Scrutineering }): ReactElement => {
  const { authorities, chosen } = own;
  const [isAdding, setAdding] = useState(false);
  const [name, setName] = useState('');
  const asksName = isAdding || authorities.length === 0;
  const add = (): void => {
    own.addAuthority(newAuthority(name));
    setName('');
    setAdding(false);
  };
  return (
    <section className={styles['bar']} aria-label="Scrutineers">
      {chosen ? (
        <>
          <Pick
            label="Scrutineers"
            options={authorities.map(({ id, authority }) => ({ value: id, text: authority.name }))}
            value={chosen.id}
            onChange={own.choose}
          />
          <Field
            label="To pass with"
            text={`${String(Number((100 * own.wished).toFixed(6)))} %`}
            inputMode="decimal"
            understand={understandWished}
            onCommit={(wished) => own.changeAuthority((authority) => ({ ...authority, wished }))}
          />
        </>
      ) : null}
      {asksName ? (
        <>
          <Field
            label="Name of the scrutineers"
            text={name}
            understand={understandName}
            onCommit={setName}
          />
          <PushButton isDisabled={name === ''} onPress={add}>
            Add
          </PushButton>
        </>
      ) : (
        <PushButton small look="quiet" onPress={() => setAdding(true)}>
          Add others
        </PushButton>
      )}
      <NoteLine
        note={own.note}
        otherwise={
          chosen
            ? ''
            : 'Add who decides, then pairs of their readings and ours, or what they state.'
        }
      />
    </section>
  );
};

const PartView = ({ part, own }: { readonly part: Part; readonly own: Scrutineering }) => {
  switch (part) {
    case 'board':
      return <Board own={own} />;
    case 'readings':
      return <TheirReadings own={own} />;
    case 'ballast':
      return <Ballast own={own} />;
  }
};

const WithRecords = ({ state }: { readonly state: BenchState }): ReactElement => {
  const own = useScrutineering(state, useRecords(state));
  const [part, setPart] = useState<Part>('board');
  if (!own) return <AnswerHead question={QUESTION} answer={READING} />;
  return (
    <>
      <AnswerHead question={QUESTION} answer={scrutineeringAnswer(own.rows)} />
      <Authorities own={own} />
      <div className={styles['parts']}>
        <Choice
          label="Part of scrutineering"
          labelUnseen
          options={PARTS.map((value) => ({ value, text: PART_TEXT[value] }))}
          value={part}
          onChange={setPart}
        />
      </div>
      <PartView part={part} own={own} />
      <HowWorkedOut
        worked={() =>
          own.rows.flatMap((row) =>
            scrutineeringWorked(
              row,
              wantedOf(
                own.items.find(({ limited }) => limited === row.item)?.item ?? null,
                state.settings.massUnit,
              ),
            ),
          )
        }
      />
    </>
  );
};

/** Scrutineering: will it pass? */
export const ScrutineeringScreen = ({ view }: { readonly view: BenchView }): ReactElement => (
  <div className={styles['screen']}>
    {view.state ? (
      <WithRecords state={view.state} />
    ) : (
      <AnswerHead question={QUESTION} answer={READING} />
    )}
  </div>
);
