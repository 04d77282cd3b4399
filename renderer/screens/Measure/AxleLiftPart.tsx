import { useMemo, type ReactElement } from 'react';
import { HARD_SPACE } from '../../../core/format/number.ts';
import { inWords, massShown } from '../../../core/format/quantity.ts';
import { MM } from '../../../core/format/valueShown.ts';
import { measured } from '../../../core/measured.ts';
import { beginAxleLift, type AxleLiftKept } from '../../../core/sheet/axleLiftKept.ts';
import { AXLES, type Axle } from '../../../core/sheet/itemKinds.ts';
import { clockShown, wallClock } from '../../clockShown.ts';
import { useFrame } from '../../live/useLive.tsx';
import { useKept } from '../../live/useKept.ts';
import { newId } from '../../newId.ts';
import { CautionText } from '../../parts/CautionText.tsx';
import { Choice } from '../../parts/Choice.tsx';
import { Field } from '../../parts/Field.tsx';
import { keepCommand } from '../../parts/keepCommand.ts';
import { PushButton } from '../../parts/PushButton.tsx';
import {
  quantityField,
  understandOrNone,
  understandQuantity,
} from '../../parts/understandQuantity.ts';
import { AxleLiftResult } from './AxleLiftResult.tsx';
import { aboveZero } from './lengths.ts';
import type { Measure } from './useMeasure.ts';
import { useTold } from '../../live/useTold.ts';
import styles from './Screen.module.css';

const YES_NO = [
  { value: 'yes', text: 'yes' },
  { value: 'no', text: 'not yet' },
] as const;

/** Load of the axle that stays down as the settled pads have it; null while they are not. */
const useAxleLoad = (lifted: Axle) =>
  useFrame((frame) =>
    frame?.stillness === 'settled' && frame.balance
      ? lifted === 'front'
        ? frame.balance.rear
        : frame.balance.front
      : null,
  );

const Lift = ({
  measure,
  lift,
  onChange,
}: {
  readonly measure: Measure;
  readonly lift: AxleLiftKept;
  readonly onChange: (lift: AxleLiftKept) => void;
}): ReactElement => {
  const { massUnit } = measure.state.settings;
  const mass = { kind: 'mass', unit: massUnit } as const;
  const settled = useAxleLoad(lift.lifted);
  const standing = lift.lifted === 'front' ? 'rear' : 'front';
  const next = lift.readings.findIndex(({ load }) => load === null);
  const change = (index: number, changes: Partial<AxleLiftKept['readings'][number]>): void =>
    onChange({
      ...lift,
      readings: lift.readings.map((each, i) => (i === index ? { ...each, ...changes } : each)),
    });
  const radius = (key: 'radiusStanding' | 'radiusLifted', words: string) => (
    <Field
      label={`Radius of the ${words} wheels`}
      text={quantityField(MM, lift[key]?.value ?? null)}
      inputMode="decimal"
      understand={understandQuantity({ ...MM, refuse: aboveZero })}
      onCommit={(value) => onChange({ ...lift, [key]: { value, u: lift[key]?.u ?? 5e-4 } })}
    />
  );
  return (
    <>
      <ol className={styles['steps']}>
        <li>
          <Choice
            label="Springs replaced by rigid links"
            options={YES_NO}
            value={lift.suspensionLocked ? 'yes' : 'no'}
            onChange={(value) => onChange({ ...lift, suspensionLocked: value === 'yes' })}
          />
          <Choice
            label="Wheels free to roll: brakes off, neutral"
            options={YES_NO}
            value={lift.wheelsFree ? 'yes' : 'no'}
            onChange={(value) => onChange({ ...lift, wheelsFree: value === 'yes' })}
          />
        </li>
        <li>
          <Field
            label="Car with all wheels down"
            text={quantityField(mass, lift.mass?.value ?? null)}
            inputMode="decimal"
            understand={understandQuantity({ ...mass, refuse: aboveZero })}
            onCommit={(value) => onChange({ ...lift, mass: measured(value, lift.loadU, Infinity) })}
          />
          {radius('radiusStanding', standing)}
          {radius('radiusLifted', lift.lifted)}
          <Field
            label="Heights are good to, standard"
            text={quantityField(MM, lift.liftU)}
            inputMode="decimal"
            understand={understandQuantity({ ...MM, refuse: aboveZero })}
            onCommit={(liftU) => onChange({ ...lift, liftU })}
          />
          <Field
            label="Typed loads are good to, standard"
            text={quantityField(mass, lift.loadU)}
            inputMode="decimal"
            understand={understandQuantity({ ...mass, refuse: aboveZero })}
            onCommit={(loadU) => onChange({ ...lift, loadU })}
          />
        </li>
      </ol>
      <ol className={styles['lifts']} aria-label="Lifts">
        {lift.readings.map(({ going, lift: height, load }, index) => (
          <li key={index} aria-current={index === next ? 'step' : 'false'}>
            <span className={styles['name']}>
              {index === 0
                ? 'all wheels down'
                : height === 0
                  ? 'all wheels down again'
                  : `going ${going}`}
            </span>
            <Field
              label={`Lift ${index + 1}: wheel centres up by`}
              text={quantityField(MM, height)}
              inputMode="decimal"
              understand={understandQuantity({
                ...MM,
                refuse: (value) =>
                  value >= 0 && value <= 3 ? null : 'From nothing to three metres.',
              })}
              onCommit={(value) => change(index, { lift: value })}
            />
            <Field
              label={`Load ${index + 1} on the ${standing} axle`}
              text={quantityField(mass, load?.value ?? null)}
              inputMode="decimal"
              understand={understandOrNone({ ...mass, none: 'not read', refuse: aboveZero })}
              onCommit={(value) =>
                change(index, {
                  load: value === null ? null : measured(value, lift.loadU, Infinity),
                })
              }
            />
            {index === next ? (
              <PushButton
                small
                isDisabled={settled === null}
                onPress={() => settled && change(index, { load: settled })}
              >
                {settled
                  ? `Take ${inWords(massShown(massUnit, settled.value, settled.u))}`
                  : 'Pads not settled'}
              </PushButton>
            ) : null}
          </li>
        ))}
      </ol>
      <div className={styles['buttons']}>
        <PushButton
          small
          look="quiet"
          onPress={() =>
            onChange({
              ...lift,
              readings: [
                ...lift.readings,
                {
                  going: 'up',
                  lift: lift.readings.at(-1)?.lift ?? 0,
                  load: null,
                  liftedLoad: null,
                },
              ],
            })
          }
        >
          One more height
        </PushButton>
      </div>
      <AxleLiftResult measure={measure} lift={lift} />
    </>
  );
};

/** Height of the centre of gravity by lifting one axle, step by step. */
export const AxleLiftPart = ({ measure }: { readonly measure: Measure }): ReactElement => {
  const { car, sources, give } = measure;
  const kept = useKept('axle lift', car.id);
  const { all, tell, takeBack } = useTold(
    useMemo(() => [...new Map(kept?.map(({ lift }) => [lift.id, lift] as const)).values()], [kept]),
  );
  const lift = all.at(-1) ?? null;
  const keep = (next: AxleLiftKept): void => {
    tell(next);
    void give(keepCommand({ kind: 'axle lift', subject: car.id, lift: next })).then((result) => {
      if (!result) takeBack(next.id);
    });
  };
  const weighed = sources?.record.entries.findLast((entry) => entry.is === 'capture');
  const capture =
    (weighed?.is === 'capture' ? sources?.captures.get(weighed.captureId) : undefined) ??
    measure.state.captures.find(({ carId, setAside }) => carId === car.id && !setAside);
  const begin = (lifted: Axle): void =>
    keep({
      ...beginAxleLift(car, {
        id: newId(),
        begunAt: wallClock(),
        lifted,
        mass: capture?.balance.total ?? null,
      }),
    });
  return (
    <section className={styles['part']} aria-label="Axle lift">
      <h2>How high is the centre of gravity?</h2>
      <p className={styles['help']}>
        One axle is raised on the rigid set-up wheels while the other stays on its pads: the load
        that moves tells the height. At least 0.6{HARD_SPACE}m, three heights up and the same down.
      </p>
      <CautionText step="before an axle is lifted" />
      <div className={styles['buttons']}>
        {AXLES.map((axle) => (
          <PushButton key={axle} small look={lift ? 'quiet' : 'plain'} onPress={() => begin(axle)}>
            {lift ? 'Begin anew with' : 'Begin with'} the {axle} axle raised
          </PushButton>
        ))}
        {lift ? (
          <span>
            Open: {lift.lifted} axle raised, begun {clockShown(lift.begunAt)}
          </span>
        ) : null}
      </div>
      {lift ? <Lift key={lift.id} measure={measure} lift={lift} onChange={keep} /> : null}
    </section>
  );
};
