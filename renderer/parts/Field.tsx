import { useEffect, useState, type KeyboardEvent, type ReactElement } from 'react';
import { Input } from 'react-aria-components/Input';
import { Label } from 'react-aria-components/Label';
import { Text } from 'react-aria-components/Text';
import { FieldError } from 'react-aria-components/FieldError';
import { TextField } from 'react-aria-components/TextField';
import { cx } from './cx.ts';
import styles from './Field.module.css';

/** What a field makes of its text: a value with the words that say it back, or why it cannot. */
export type Understood<T> =
  | { readonly ok: true; readonly value: T; readonly said: string }
  | { readonly ok: false; readonly why: string };

export interface FieldProps<T> {
  readonly label: string;
  /** The label is read out but not seen. */
  readonly labelUnseen?: boolean;
  /** The text of the value as it is now. */
  readonly text: string;
  readonly understand: (text: string) => Understood<T>;
  /** Called when the field is left or Enter is pressed with something new that was understood. */
  readonly onCommit: (value: T) => void;
  readonly inputMode?: 'text' | 'decimal';
}

/** Enter goes on to the next field of the same form, in the order in which they stand. */
const goOn = (event: KeyboardEvent<HTMLInputElement>): void => {
  if (event.key !== 'Enter') return;
  const fields = [...document.querySelectorAll<HTMLInputElement>('input[data-field]')];
  const next = fields[fields.indexOf(event.currentTarget) + 1];
  if (next) next.focus();
  else event.currentTarget.blur();
};

/** How long what was understood still stands: a button below must not move away under a finger. */
const SAID_STAYS_MS = 1000;

/** A typed value that says what it understood, and why not where it did not. */
export const Field = <T,>({
  label,
  labelUnseen = false,
  text,
  understand,
  onCommit,
  inputMode = 'text',
}: FieldProps<T>): ReactElement => {
  const [typed, setTyped] = useState<string | null>(null);
  const [said, setSaid] = useState<string | null>(null);
  useEffect(() => setTyped(null), [text]);
  useEffect(() => {
    if (said === null) return undefined;
    const timer = setTimeout(() => setSaid(null), SAID_STAYS_MS);
    return () => clearTimeout(timer);
  }, [said]);
  const result = typed === null ? null : understand(typed);
  const now = result?.ok && typed !== text ? result.said : result ? null : said;
  const commit = (): void => {
    if (!result?.ok || typed === text) return;
    setSaid(result.said);
    onCommit(result.value);
  };
  return (
    <TextField
      className={cx(styles['field'], labelUnseen && styles['alone'])}
      value={typed ?? text}
      onChange={setTyped}
      onBlur={commit}
      isInvalid={result !== null && !result.ok}
    >
      <Label className={cx(labelUnseen ? 'unseen' : styles['label'])}>{label}</Label>
      <Input
        className={cx(styles['input'])}
        inputMode={inputMode}
        data-field=""
        onKeyDown={(event) => {
          if (event.key === 'Escape' && typed !== null) {
            event.stopPropagation();
            setTyped(null);
          } else goOn(event);
        }}
      />
      {now === null ? null : (
        <Text slot="description" className={cx(styles['said'])}>
          {now}
        </Text>
      )}
      <FieldError className={cx(styles['why'])}>
        {result && !result.ok ? result.why : ''}
      </FieldError>
    </TextField>
  );
};
