import { useState, type ReactElement } from 'react';
import { barCheck } from '../../../core/adjust/barCheck.ts';
import type { AdjustReading } from '../../../core/adjust/reading.ts';
import { isSettledReading, settledReading } from '../../../core/adjust/settledReading.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { MM, valueText } from '../../../core/format/valueShown.ts';
import { useClient, useFrame } from '../../live/useLive.tsx';
import { Choice } from '../../parts/Choice.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import styles from './Screen.module.css';

/** Weighed with the bar off, then on: what the drop link must be made longer or shorter by. */
export const BarCheck = ({
  state,
  friction,
}: {
  readonly state: BenchState;
  readonly friction: number;
}): ReactElement => {
  const client = useClient();
  const isSettled = useFrame(isSettledReading);
  const [axle, setAxle] = useState<'front' | 'rear'>('front');
  const [barEnd, setBarEnd] = useState<'above' | 'below'>('above');
  const [off, setOff] = useState<AdjustReading | null>(null);
  const [on, setOn] = useState<AdjustReading | null>(null);
  const { car, settings } = state;
  const mass = { kind: 'mass', unit: settings.massUnit } as const;
  const read = (): AdjustReading | null =>
    settledReading(client.live.get(), {
      gravity: state.gravity,
      heights: [],
      settled: 'bounced',
    });
  const found =
    off && on ? barCheck({ car, off, on, axle, barEnd, otherBar: 'off', friction }) : null;
  return (
    <section className={styles['fields']} aria-label="Bar preload">
      <p className={styles['help']}>
        Take the drop link off, settle, weigh. Connect it, settle, weigh again. Nothing else may
        change; the other bar stays off.
      </p>
      <Choice
        label="Bar"
        options={[
          { value: 'front', text: 'front' },
          { value: 'rear', text: 'rear' },
        ]}
        value={axle}
        onChange={setAxle}
      />
      <Choice
        label="Bar’s arm stands"
        options={[
          { value: 'above', text: 'above the link' },
          { value: 'below', text: 'below' },
        ]}
        value={barEnd}
        onChange={setBarEnd}
      />
      <div className={styles['buttons']}>
        <PushButton
          isDisabled={!isSettled}
          onPress={() => {
            setOff(read());
            setOn(null);
          }}
        >
          Weigh, bar off
        </PushButton>
        <PushButton isDisabled={!isSettled || !off} onPress={() => setOn(read())}>
          Weigh, bar on
        </PushButton>
      </div>
      <p role="status">
        {!off
          ? 'Not weighed yet.'
          : !on
            ? 'Bar off is weighed. Connect it and weigh again.'
            : !found?.ok
              ? found?.why
              : found.seen
                ? `${found.leftLink.value > 0 ? 'Lengthen' : 'Shorten'} the left drop link by ${valueText(MM, Math.abs(found.leftLink.value), found.leftLink.u)} ±${valueText(MM, found.leftLink.u, found.leftLink.u)}.`
                : 'No preload beyond the noise of the two weighings.'}
      </p>
      {found?.ok ? (
        <p>
          <Tag kind={found.seen ? 'alarm' : 'note'}>{found.seen ? 'preload' : 'none seen'}</Tag> The
          bar brings{' '}
          {valueText(mass, found.shift.value / state.gravity, found.shift.u / state.gravity)} ±
          {valueText(mass, found.shift.u / state.gravity, found.shift.u / state.gravity)} to its
          left wheel.
        </p>
      ) : null}
      {car.details?.bars[axle]?.dropLinkRatio === undefined ||
      car.details.bars[axle].dropLinkRatio === null ? (
        <p>The {axle} bar has no drop-link ratio. It belongs to the details of the car.</p>
      ) : null}
    </section>
  );
};
