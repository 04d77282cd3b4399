import type { ReactElement } from 'react';
import { Dialog } from 'react-aria-components/Dialog';
import { Heading } from 'react-aria-components/Heading';
import { Modal, ModalOverlay } from 'react-aria-components/Modal';
import { CAUTION_STEPS } from '../../../core/answers/caution.ts';
import { CautionText } from '../../parts/CautionText.tsx';
import { Choice } from '../../parts/Choice.tsx';
import { cx } from '../../parts/cx.ts';
import { PushButton } from '../../parts/PushButton.tsx';
import { Keys } from './Keys.tsx';
import { Symptoms } from './Symptoms.tsx';
import styles from './Help.module.css';

const PARTS = [
  { value: 'wrong', text: 'When something is wrong' },
  { value: 'keys', text: 'Keys' },
  { value: 'cautions', text: 'Cautions' },
] as const;

export type HelpPart = (typeof PARTS)[number]['value'];

const Cautions = (): ReactElement => (
  <div className={styles['cautions']}>
    <p>
      A raised car kills. Numbers are not permission: the series’ rules, the officials’ equipment,
      local safety rules and qualified people decide.
    </p>
    {CAUTION_STEPS.map((step) => (
      <CautionText key={step} step={step} />
    ))}
  </div>
);

/** Help: what is wrong and what to do, the keys, the cautions. */
export const Help = ({
  part,
  onPart,
}: {
  /** Null while it is closed. */
  readonly part: HelpPart | null;
  readonly onPart: (part: HelpPart | null) => void;
}): ReactElement => (
  <ModalOverlay
    className={cx(styles['overlay'])}
    isOpen={part !== null}
    onOpenChange={(open) => {
      if (!open) onPart(null);
    }}
    isDismissable
  >
    <Modal className={cx(styles['modal'])}>
      <Dialog className={cx(styles['dialog'])}>
        <div className={styles['head']}>
          <Heading slot="title">Help</Heading>
          <Choice
            label="Part of the help"
            labelUnseen
            options={PARTS}
            value={part}
            onChange={onPart}
          />
        </div>
        {/* Takes the focus so that a keyboard scrolls it. */}
        <div
          className={styles['part']}
          role="region"
          tabIndex={0}
          aria-label={PARTS.find(({ value }) => value === part)?.text}
        >
          {part === 'wrong' ? <Symptoms /> : null}
          {part === 'keys' ? <Keys /> : null}
          {part === 'cautions' ? <Cautions /> : null}
        </div>
        <div className={styles['foot']}>
          <PushButton autoFocus onPress={() => onPart(null)}>
            Close
          </PushButton>
        </div>
      </Dialog>
    </Modal>
  </ModalOverlay>
);
