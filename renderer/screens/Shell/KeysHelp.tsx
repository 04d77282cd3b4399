import type { ReactElement } from 'react';
import { Dialog } from 'react-aria-components/Dialog';
import { Heading } from 'react-aria-components/Heading';
import { Modal, ModalOverlay } from 'react-aria-components/Modal';
import { cx } from '../../parts/cx.ts';
import { PushButton } from '../../parts/PushButton.tsx';
import { PLACES } from './places.ts';
import styles from './KeysHelp.module.css';

const KEYS: readonly (readonly [string, string])[] = [
  ...PLACES.map(({ number, text }): readonly [string, string] => [String(number), text]),
  ['Space', 'capture, on Balance, while no field or button has the focus'],
  ['Enter', 'next field; press the button that has the focus'],
  ['Esc', 'step back: close what is open, take back what is being typed'],
  ['Tab', 'next control'],
  ['?', 'this list'],
];

/** The list of keys. */
export const KeysHelp = ({
  isOpen,
  onOpenChange,
}: {
  readonly isOpen: boolean;
  readonly onOpenChange: (open: boolean) => void;
}): ReactElement => (
  <ModalOverlay
    className={cx(styles['overlay'])}
    isOpen={isOpen}
    onOpenChange={onOpenChange}
    isDismissable
  >
    <Modal className={cx(styles['modal'])}>
      <Dialog className={cx(styles['dialog'])}>
        <Heading slot="title">Keys</Heading>
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
        <PushButton autoFocus onPress={() => onOpenChange(false)}>
          Close
        </PushButton>
      </Dialog>
    </Modal>
  </ModalOverlay>
);
