import { useEffect, useState, type ReactElement } from 'react';
import { FileTrigger } from 'react-aria-components/FileTrigger';
import { Input } from 'react-aria-components/Input';
import { Label } from 'react-aria-components/Label';
import { TextArea } from 'react-aria-components/TextArea';
import { TextField } from 'react-aria-components/TextField';
import type { BenchState } from '../../../core/contract/events.ts';
import type { TrialShown } from '../../../core/contract/trialShown.ts';
import { cx } from '../../parts/cx.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { saveText } from '../../saveFile.ts';
import { padOptions } from './padOptions.ts';
import styles from './Calibrate.module.css';

/** How often the newest payload of a live pad is looked at, ms. */
const LOOK_MS = 500;
const TYPED = 'typed';

const Trial = ({ trial }: { readonly trial: TrialShown }): ReactElement => (
  <>
    {trial.problems.length > 0 ? (
      <ul className={styles['findings']} aria-label="What is wrong with the description">
        {trial.problems.map(({ path, what }) => (
          <li key={`${path} ${what}`} data-weight="refuses">
            <strong>{path === '' ? 'the text' : path}</strong>: {what}.
          </li>
        ))}
      </ul>
    ) : null}
    {trial.notices.map((notice) => (
      <p key={notice} className={styles['help']}>
        {notice}
      </p>
    ))}
    {trial.payload ? (
      <>
        {trial.payload.why === null ? (
          <p className={styles['verdict']}>Load: {trial.payload.loads.join(', ') || 'none'}.</p>
        ) : (
          <p className={styles['verdict']} data-outcome="outside">
            Refused: {trial.payload.why}.
          </p>
        )}
        <div className={styles['table']}>
          <table>
            <thead>
              <tr>
                <th scope="col">bytes</th>
                <th scope="col">hex</th>
                <th scope="col">field</th>
                <th scope="col">value</th>
              </tr>
            </thead>
            <tbody>
              {trial.payload.pieces.map(({ from, to, hex, field, value }) => (
                <tr key={from}>
                  <td>{to - from > 1 ? `${from}–${to - 1}` : from}</td>
                  <td>{hex}</td>
                  <td>{field ?? 'not read'}</td>
                  <td>{value ?? '—'}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      </>
    ) : null}
  </>
);

/** Pads whose bytes are described in a file: tried on bytes, kept, exported. */
export const Descriptions = ({ state }: { readonly state: BenchState }): ReactElement => {
  const { note, give } = useCommand();
  const trying = useCommand();
  const [text, setText] = useState('');
  const [hex, setHex] = useState('');
  const [source, setSource] = useState(TYPED);
  const [trial, setTrial] = useState<TrialShown | null>(null);
  const { give: tryIt } = trying;

  useEffect(() => {
    if (text.trim() === '') {
      setTrial(null);
      return undefined;
    }
    const padSerial = source === TYPED ? null : source;
    let isOver = false;
    const look = async (): Promise<void> => {
      const result = await tryIt({ do: 'try pad description', text, hex, padSerial });
      if (!isOver && result?.is === 'description tried') setTrial(result.trial);
    };
    void look();
    const timer = padSerial === null ? null : setInterval(() => void look(), LOOK_MS);
    return () => {
      isOver = true;
      if (timer !== null) clearInterval(timer);
    };
  }, [text, hex, source, tryIt]);

  const keep = (isAside: boolean): void =>
    void give(
      { do: 'keep pad description', text, isAside },
      {
        doing: 'Storing; pads are looked at again with it.',
        done: () => (isAside ? 'Set aside.' : 'Stored and used.'),
      },
    );
  return (
    <section className={styles['calibrate']} aria-label="Descriptions of other pads">
      <p className={styles['help']}>
        Other hardware needs no code: a description names its services and says what each byte
        means. The page <em>padDescription.md</em> in the program’s folder says how to write one.
      </p>
      <ul className={styles['list']}>
        {state.padDescriptions.map((each) => (
          <li key={each.name} className={styles['row']}>
            <strong>{each.name}</strong>
            <span className={styles['buttons']}>
              <PushButton small onPress={() => setText(each.text)}>
                Open
              </PushButton>
              <PushButton
                small
                onPress={() =>
                  saveText({
                    name: `${each.name}.pad.json`,
                    type: 'application/json',
                    text: each.text,
                  })
                }
              >
                Export
              </PushButton>
            </span>
          </li>
        ))}
      </ul>
      <div className={styles['work']}>
        <div className={styles['left']}>
          <TextField className={cx(styles['part'])} value={text} onChange={setText}>
            <Label>Description</Label>
            <TextArea className={cx(styles['text'])} spellCheck={false} />
          </TextField>
          <div className={styles['buttons']}>
            <FileTrigger
              acceptedFileTypes={['.json', 'application/json']}
              onSelect={(files) => {
                const file = files?.[0];
                if (file) void file.text().then(setText);
              }}
            >
              <PushButton>Import a file</PushButton>
            </FileTrigger>
            <PushButton isDisabled={text.trim() === ''} onPress={() => keep(true)}>
              Set aside
            </PushButton>
            <PushButton
              look="main"
              isDisabled={trial === null || trial.problems.length > 0}
              onPress={() => keep(false)}
            >
              Store and use
            </PushButton>
          </div>
          <NoteLine note={note} />
        </div>
        <div className={styles['right']}>
          <Pick
            label="Tried on"
            options={[{ value: TYPED, text: 'bytes typed here' }, ...padOptions(state)]}
            value={source}
            onChange={setSource}
          />
          {source === TYPED ? (
            <TextField className={cx(styles['typed'])} value={hex} onChange={setHex}>
              <Label>Bytes of one payload, hexadecimal</Label>
              <Input placeholder="0a 1f 00" />
            </TextField>
          ) : null}
          {trying.note?.kind === 'refused' ? <NoteLine note={trying.note} /> : null}
          {trial ? (
            <Trial trial={trial} />
          ) : (
            <p className={styles['help']}>Import or paste a description to try it.</p>
          )}
        </div>
      </div>
    </section>
  );
};
