import type { ReactElement } from 'react';
import type { Limits } from '../../../core/contract/calibrationRecord.ts';
import { fixed } from '../../../core/format/number.ts';
import { typedNumber } from '../../../core/format/typed.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Field, type Understood } from '../../parts/Field.tsx';
import styles from './Calibrate.module.css';

const IS = ['none', 'class', 'own'] as const;
const IS_TEXT = { none: 'nothing', class: 'a class', own: 'own limits' } as const;
/** Accuracy classes that pads are found in: OIML R 76-1, table 3. */
const CLASSES = ['II', 'III', 'IIII'] as const;

const CLASS_III: Limits = {
  is: 'class',
  accuracy: 'III',
  interval: 0.1,
  when: 'first verification',
};
const OWN: Limits = { is: 'own', fixed: 0.1, share: 0.0005 };

const aboveZero =
  (unit: string, most: number) =>
  (text: string): Understood<number> => {
    const typed = typedNumber(text, unit);
    if (!typed.ok) return typed;
    return typed.value > 0 && typed.value <= most
      ? { ok: true, value: typed.value, said: `${String(typed.value)} ${unit}` }
      : { ok: false, why: `Above 0 and up to ${most} ${unit}.` };
  };

/** What a calibration is held against. */
export const LimitsFields = ({
  limits,
  onChange,
}: {
  readonly limits: Limits | null;
  readonly onChange: (limits: Limits | null) => void;
}): ReactElement => (
  <div className={styles['fields']}>
    <Choice
      label="Held against"
      options={IS.map((value) => ({ value, text: IS_TEXT[value] }))}
      value={limits?.is ?? 'none'}
      onChange={(is) => onChange(is === 'none' ? null : is === 'class' ? CLASS_III : OWN)}
    />
    {limits?.is === 'class' ? (
      <>
        <Choice
          label="Class (OIML R 76)"
          options={CLASSES.map((value) => ({ value, text: value }))}
          value={limits.accuracy === 'I' ? null : limits.accuracy}
          onChange={(accuracy) => onChange({ ...limits, accuracy })}
        />
        <Field
          label="Interval e"
          text={`${String(limits.interval)} kg`}
          inputMode="decimal"
          understand={aboveZero('kg', 10)}
          onCommit={(interval) => onChange({ ...limits, interval })}
        />
        <Choice
          label="Limits of"
          options={[
            { value: 'first verification', text: 'first verification' },
            { value: 'in service', text: 'in service' },
          ]}
          value={limits.when}
          onChange={(when) => onChange({ ...limits, when })}
        />
      </>
    ) : null}
    {limits?.is === 'own' ? (
      <>
        <Field
          label="So much"
          text={`${String(limits.fixed)} kg`}
          inputMode="decimal"
          understand={aboveZero('kg', 10)}
          onCommit={(fixedPart) => onChange({ ...limits, fixed: fixedPart })}
        />
        <Field
          label="and of the load"
          text={`${fixed(100 * limits.share, 3)} %`}
          inputMode="decimal"
          understand={aboveZero('%', 5)}
          onCommit={(percent) => onChange({ ...limits, share: percent / 100 })}
        />
      </>
    ) : null}
  </div>
);
