import { useCallback, useEffect, useState, type ReactElement } from 'react';
import { Input } from 'react-aria-components/Input';
import { Label } from 'react-aria-components/Label';
import { TextField } from 'react-aria-components/TextField';
import type { BenchState } from '../../../core/contract/events.ts';
import type { StudyShown } from '../../../core/contract/studyShown.ts';
import { cornerLabel, CORNERS } from '../../../core/corners.ts';
import { capital } from '../../../core/format/capital.ts';
import { fixed, HARD_SPACE, signed } from '../../../core/format/number.ts';
import { massIn } from '../../../core/units.ts';
import { cx } from '../../parts/cx.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './BudgetPanel.module.css';

type Quantity = StudyShown['quantities'][number];

const nameOf = (of: Quantity['of'], labels: BenchState['settings']['cornerLabels']): string => {
  const corner = CORNERS.find((each) => each === of);
  return corner ? cornerLabel(corner, labels) : capital(of);
};

/**
 * How well a lowering repeats: the unchanged car lowered again and again, by one or two people, on the
 * patch as it lies or relaid, with pads exchanged or not. One study for each car.
 */
export const StudyPanel = ({ state }: { readonly state: BenchState }): ReactElement => {
  const { note, give } = useCommand();
  const [person, setPerson] = useState('');
  const [laying, setLaying] = useState(1);
  const [chosen, setChosen] = useState<string | null>(null);
  const [study, setStudy] = useState<StudyShown | null>(null);
  const studyId = state.car.id;
  const { massUnit, cornerLabels } = state.settings;
  const open = useCallback(async (): Promise<void> => {
    const result = await give({ do: 'open study', studyId });
    if (result?.is === 'study opened') setStudy(result.study);
  }, [studyId, give]);
  useEffect(() => void open(), [open]);

  const inStudy = new Set(study?.lowerings.map(({ captureId }) => captureId));
  const free = state.captures.filter(({ id, setAside }) => !setAside && !inStudy.has(id));
  const captureId = chosen ?? free[0]?.id ?? null;
  const add = async (): Promise<void> => {
    if (captureId === null) return;
    const given = await give(
      { do: 'add lowering', studyId, captureId, person: person.trim(), laying },
      { doing: 'Adding.', done: () => 'Added.' },
    );
    if (!given) return;
    setChosen(null);
    await open();
  };
  const sd = (of: Quantity['of'], component: Quantity['repeatability']): string => {
    if (!component) return 'not told';
    const isShare = of === 'front' || of === 'left' || of === 'cross';
    const show = (value: number): string =>
      isShare ? fixed(100 * value, 3) : fixed(massIn(massUnit, value), 3);
    return `${show(component.sd)} (${show(component.lower)} to ${component.upper === null ? 'no end' : show(component.upper)})`;
  };
  return (
    <section className={styles['budget']} aria-label="Repeatability of lowering">
      <p>
        Raise and lower the unchanged car, capture each time, and add the captures here. Two people,
        the patch laid again, and pads exchanged between corners (three arrangements tell all four
        apart) each add what only they can tell.
      </p>
      <Pick
        label="Capture"
        options={free.map(({ id, number }) => ({ value: id, text: `no. ${number}` }))}
        value={captureId}
        placeholder="capture a lowering first"
        onChange={setChosen}
      />
      <TextField className={cx(styles['files'])} value={person} onChange={setPerson} maxLength={80}>
        <Label>Lowered by</Label>
        <Input placeholder="a role or a letter" />
      </TextField>
      <div className={styles['files']}>
        <span>Laying of the patch no. {laying}</span>
        <PushButton small onPress={() => setLaying(laying + 1)}>
          It was laid again
        </PushButton>
        <PushButton
          look="main"
          isDisabled={captureId === null || person.trim() === ''}
          onPress={() => void add()}
        >
          Add
        </PushButton>
      </div>
      <NoteLine note={note} />
      {study && study.lowerings.length > 0 ? (
        <p>
          {study.lowerings.length} lowerings: no.{' '}
          {study.lowerings.map(({ number }) => number).join(', ')}.
        </p>
      ) : null}
      {study && study.quantities.length > 0 ? (
        <table className={styles['terms']}>
          <caption>One standard deviation with its 95 % interval, {massUnit} and %</caption>
          <thead>
            <tr>
              <th scope="col" />
              <th scope="col">repeatability</th>
              <th scope="col">intermediate precision</th>
            </tr>
          </thead>
          <tbody>
            {study.quantities.map(({ of, repeatability, intermediate }) => (
              <tr key={of}>
                <th scope="row">{nameOf(of, cornerLabels)}</th>
                <td>{sd(of, repeatability)}</td>
                <td>{sd(of, intermediate)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      ) : null}
      {study && study.biases.some(({ bias }) => bias !== null) ? (
        <p>
          Pads against their mean:{' '}
          {study.biases
            .map(({ padSerial, bias }) =>
              bias
                ? `${padSerial} ${signed(massIn(massUnit, bias.value), 3)} ±${fixed(massIn(massUnit, bias.u), 3)}${HARD_SPACE}${massUnit}`
                : `${padSerial} not told`,
            )
            .join(', ')}
          .
        </p>
      ) : null}
      {study && study.notTold.length > 0 ? <p>Not told yet: {study.notTold.join('; ')}.</p> : null}
    </section>
  );
};
