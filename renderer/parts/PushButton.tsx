import type { ReactElement } from 'react';
import { Button, type ButtonProps } from 'react-aria-components/Button';
import { cx } from './cx.ts';
import styles from './PushButton.module.css';

export interface PushButtonProps extends Omit<ButtonProps, 'className' | 'style'> {
  /** main: the action of the screen. plain: beside it. quiet: no frame until pointed at. */
  readonly look?: 'main' | 'plain' | 'quiet';
  readonly small?: boolean;
}

/** A button of at least 48 px, for gloves. */
export const PushButton = ({
  look = 'plain',
  small = false,
  ...rest
}: PushButtonProps): ReactElement => (
  <Button {...rest} className={cx(styles['button'], styles[look], small && styles['small'])} />
);
