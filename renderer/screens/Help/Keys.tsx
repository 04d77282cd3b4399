import type { ReactElement } from 'react';
import { PLACES } from '../Shell/places.ts';
import styles from './Help.module.css';

const KEYS: readonly (readonly [string, string])[] = [
  ...PLACES.map(({ number, text }): readonly [string, string] => [String(number), text]),
  ['Space', 'capture, on Balance, while no field or button has the focus'],
  ['Enter', 'next field; press the button that has the focus'],
  ['Esc', 'step back: close what is open, take back what is being typed'],
  ['Tab', 'next control'],
  ['?', 'this list'],
];

/** The list of keys. */
export const Keys = (): ReactElement => (
  <dl className={styles['keys']}>
    {KEYS.map(([key, what]) => (
      <div key={key}>
        <dt>
          <kbd>{key}</kbd>
        </dt>
        <dd>{what}</dd>
      </div>
    ))}
  </dl>
);
