import type { ReactElement } from 'react';
import { Button } from 'react-aria-components/Button';
import { Label } from 'react-aria-components/Label';
import { ListBox, ListBoxItem } from 'react-aria-components/ListBox';
import { Popover } from 'react-aria-components/Popover';
import { Select, SelectValue } from 'react-aria-components/Select';
import { cx } from './cx.ts';
import styles from './Pick.module.css';

export interface PickProps<T extends string> {
  readonly label: string;
  readonly labelUnseen?: boolean;
  readonly options: readonly { readonly value: T; readonly text: string }[];
  readonly value: T | null;
  readonly placeholder?: string;
  readonly onChange: (value: T) => void;
}

/** One of several, opened when it is needed. */
export const Pick = <T extends string>({
  label,
  labelUnseen = false,
  options,
  value,
  placeholder = 'choose',
  onChange,
}: PickProps<T>): ReactElement => (
  <Select
    className={cx(styles['pick'])}
    value={value}
    placeholder={placeholder}
    onChange={(key) => {
      const option = options.find((each) => each.value === key);
      if (option && option.value !== value) onChange(option.value);
    }}
  >
    <Label className={cx(labelUnseen ? 'unseen' : styles['label'])}>{label}</Label>
    <Button className={cx(styles['button'])}>
      <SelectValue />
      <svg width="12" height="8" viewBox="0 0 12 8" aria-hidden="true">
        <path d="M1 1.5 6 6.5 11 1.5" fill="none" stroke="currentColor" strokeWidth="1.8" />
      </svg>
    </Button>
    <Popover className={cx(styles['popover'])}>
      <ListBox className={cx(styles['list'])}>
        {options.map((option) => (
          <ListBoxItem
            key={option.value}
            id={option.value}
            textValue={option.text}
            className={cx(styles['item'])}
          >
            {option.text}
          </ListBoxItem>
        ))}
      </ListBox>
    </Popover>
  </Select>
);
