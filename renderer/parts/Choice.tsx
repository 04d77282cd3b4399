import type { ReactElement } from 'react';
import { Label } from 'react-aria-components/Label';
import { Radio, RadioGroup } from 'react-aria-components/RadioGroup';
import { cx } from './cx.ts';
import styles from './Choice.module.css';

export interface ChoiceProps<T extends string> {
  readonly label: string;
  /** The label is read out but not seen. */
  readonly labelUnseen?: boolean;
  readonly options: readonly { readonly value: T; readonly text: string }[];
  readonly value: T | null;
  readonly onChange: (value: T) => void;
  readonly isDisabled?: boolean;
}

/** One of a few, all of them in sight. */
export const Choice = <T extends string>({
  label,
  labelUnseen = false,
  options,
  value,
  onChange,
  isDisabled = false,
}: ChoiceProps<T>): ReactElement => (
  <RadioGroup
    className={cx(styles['group'])}
    orientation="horizontal"
    value={value}
    isDisabled={isDisabled}
    onChange={(chosen) => {
      const option = options.find((each) => each.value === chosen);
      if (option) onChange(option.value);
    }}
  >
    <Label className={cx(labelUnseen ? 'unseen' : styles['label'])}>{label}</Label>
    <div className={styles['options']}>
      {options.map((option) => (
        <Radio key={option.value} value={option.value} className={cx(styles['option'])}>
          {option.text}
        </Radio>
      ))}
    </div>
  </RadioGroup>
);
