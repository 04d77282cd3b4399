import type { ReactElement } from 'react';
import { Dialog, DialogTrigger } from 'react-aria-components/Dialog';
import { Button } from 'react-aria-components/Button';
import { Popover } from 'react-aria-components/Popover';
import { padOf } from '../../../core/answers/padsAnswer.ts';
import { gravityNote } from '../../../core/answers/gravityNote.ts';
import { CORNER_NAMES, type Corner } from '../../../core/corners.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { fixed } from '../../../core/format/number.ts';
import { ageShown } from '../../../core/format/quantity.ts';
import { useFrame } from '../../live/useLive.tsx';
import { clockShown } from '../../clockShown.ts';
import { cx } from '../../parts/cx.ts';
import styles from './CornerSource.module.css';

const degrees = (temperature: number | null): string =>
  temperature === null ? 'unknown' : `${fixed(temperature, 1)}\u00A0°C`;

/** The corner's label; pressed, it says where the number comes from. */
export const CornerSource = ({
  corner,
  label,
  state,
}: {
  readonly corner: Corner;
  readonly label: string;
  readonly state: BenchState;
}): ReactElement => {
  const pad = padOf(state, corner);
  const zero = state.zeros[corner];
  // Rounded, so that a digit that moves does not draw this again.
  const total = useFrame((frame) =>
    frame?.balance && frame.stillness === 'settled' ? Math.round(frame.balance.total.value) : null,
  );
  const rows: readonly (readonly [string, string])[] = [
    ['Pad', state.assigned[corner] ?? 'none'],
    ['Model', pad?.model ?? 'unknown'],
    [
      'Span',
      pad?.calibration
        ? `${pad.calibration.kind}, ${clockShown(pad.calibration.madeAt)}, ${pad.calibration.place.name}${pad.calibration.inSpiteOf === null ? '' : `, in spite of findings: ${pad.calibration.inSpiteOf}`}`
        : `not calibrated: the maker’s rating${pad?.ratedLoad ? ` of ${fixed(pad.ratedLoad, 0)}\u00A0kg` : ''}`,
    ],
    [
      'Zero',
      zero
        ? `${ageShown((state.wallAt - zero.takenAt) / 1000)} ago, at ${degrees(zero.temperature)}`
        : 'none yet',
    ],
    ['Temperature', degrees(pad?.temperature ?? null)],
    [
      'Gravity',
      gravityNote(state, total) ?? `${fixed(state.gravity, 5)}\u00A0m/s² at ${state.venue.name}`,
    ],
    ['Uncertainty', '± is one standard uncertainty (k = 1) of the settled mean'],
  ];
  return (
    <DialogTrigger>
      <Button
        className={cx(styles['label'])}
        aria-label={`${label} ${CORNER_NAMES[corner]}: where this number comes from`}
      >
        {label} <span className={styles['name']}>{CORNER_NAMES[corner]}</span>
      </Button>
      <Popover className={cx(styles['popover'])} placement="bottom start">
        <Dialog className={cx(styles['dialog'])} aria-label={`Where ${label} comes from`}>
          <dl className={styles['rows']}>
            {rows.map(([name, text]) => (
              <div key={name}>
                <dt>{name}</dt>
                <dd>{text}</dd>
              </div>
            ))}
          </dl>
        </Dialog>
      </Popover>
    </DialogTrigger>
  );
};
