import type { ReactElement } from 'react';
import { CROSS_DIAGONALS } from '../../../core/contract/records.ts';
import { cornerLabel, CORNERS } from '../../../core/corners.ts';
import { MM } from '../../../core/format/valueShown.ts';
import type { Car } from '../../../core/sheet/car.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Field } from '../../parts/Field.tsx';
import { understandName } from '../../parts/understandName.ts';
import {
  quantityField,
  understandOrNone,
  understandQuantity,
} from '../../parts/understandQuantity.ts';
import type { DetailsProps } from './CarPart.tsx';
import { aboveZero, upTo } from './lengths.ts';
import styles from './Screen.module.css';

const RATE = { kind: 'rate', unit: 'N/mm' } as const;
const TORSION = { kind: 'torsion', unit: 'kNm/°' } as const;
const NUMBER = { kind: 'number', unit: null } as const;

/** Body, springs, bars: what its statics need. */
export const BodyFields = ({ measure, details, change }: DetailsProps): ReactElement => {
  const { car, state } = measure;
  const keep = (changes: Partial<Car>): void => measure.keepCar({ ...car, ...changes });
  const label = state.settings.cornerLabels;
  const length = (key: 'wheelbase' | 'trackFront' | 'trackRear', words: string, most: number) => (
    <Field
      label={words}
      text={quantityField(MM, car[key])}
      inputMode="decimal"
      understand={understandQuantity({ ...MM, refuse: upTo(most) })}
      onCommit={(value) => keep({ [key]: value })}
    />
  );
  return (
    <section className={styles['part']} aria-label="Body and springs">
      <h2>{car.name}: body and springs</h2>
      <div className={styles['grid']}>
        <Field
          label="Name"
          text={car.name}
          understand={understandName}
          onCommit={(name) => keep({ name })}
        />
        {length('wheelbase', 'Wheelbase', 10)}
        {length('trackFront', 'Front track', 5)}
        {length('trackRear', 'Rear track', 5)}
        <Field
          label="Height of the centre of gravity"
          text={quantityField(MM, car.cgHeight)}
          inputMode="decimal"
          understand={understandOrNone({ ...MM, none: 'not measured', refuse: upTo(3) })}
          onCommit={(cgHeight) => keep({ cgHeight })}
        />
        <Field
          label="Torsional stiffness of the chassis"
          text={quantityField(TORSION, car.chassisStiffness)}
          inputMode="decimal"
          understand={understandOrNone({ ...TORSION, none: 'taken as rigid', refuse: aboveZero })}
          onCommit={(chassisStiffness) => keep({ chassisStiffness })}
        />
        <Field
          label="Pitch of the perches, a turn"
          text={quantityField(MM, car.perchPitch)}
          inputMode="decimal"
          understand={understandQuantity({ ...MM, refuse: upTo(0.02) })}
          onCommit={(perchPitch) => keep({ perchPitch })}
        />
      </div>
      <div className={styles['cards']}>
        {(['front', 'rear'] as const).map((axle) => {
          const key = axle === 'front' ? 'barFront' : 'barRear';
          const bar = details.bars[axle];
          const name = axle === 'front' ? 'Front bar' : 'Rear bar';
          const barLength = (
            part: 'dropLinkLever' | 'dropLinkPitch',
            words: string,
            most: number,
          ) => (
            <Field
              label={words}
              text={quantityField(MM, bar?.[part] ?? null)}
              inputMode="decimal"
              understand={understandOrNone({ ...MM, none: 'not known', refuse: upTo(most) })}
              onCommit={(value) =>
                change({
                  bars: {
                    ...details.bars,
                    [axle]: {
                      dropLinkLever: null,
                      dropLinkPitch: null,
                      dropLinkRatio: null,
                      ...bar,
                      [part]: value,
                    },
                  },
                })
              }
            />
          );
          return (
            <div key={axle} className={styles['card']} role="group" aria-label={name}>
              <h3>{name}</h3>
              <Field
                label="Wheel to wheel (none: 0)"
                text={quantityField(RATE, car[key])}
                inputMode="decimal"
                understand={understandQuantity({
                  ...RATE,
                  refuse: (value) => (value >= 0 ? null : 'None is 0.'),
                })}
                onCommit={(value) => keep({ [key]: value })}
              />
              {car[key] === 0 ? null : (
                <>
                  {barLength('dropLinkLever', 'Lever of the drop link', 1)}
                  {barLength('dropLinkPitch', 'Drop link, a turn', 0.02)}
                  <Field
                    label="Link over wheel travel"
                    text={quantityField(NUMBER, bar?.dropLinkRatio ?? null)}
                    inputMode="decimal"
                    understand={understandOrNone({
                      ...NUMBER,
                      none: 'not known',
                      refuse: (value) => (value > 0 && value <= 5 ? null : 'Above 0, at most 5.'),
                    })}
                    onCommit={(dropLinkRatio) =>
                      change({
                        bars: {
                          ...details.bars,
                          [axle]: {
                            dropLinkLever: null,
                            dropLinkPitch: null,
                            ...bar,
                            dropLinkRatio,
                          },
                        },
                      })
                    }
                  />
                </>
              )}
            </div>
          );
        })}
        {CORNERS.map((corner) => (
          <div
            key={corner}
            className={styles['card']}
            role="group"
            aria-label={`${cornerLabel(corner, label)} spring`}
          >
            <h3>{cornerLabel(corner, label)} spring</h3>
            <Field
              label="Rate at the wheel"
              text={quantityField(RATE, car.wheelRates[corner])}
              inputMode="decimal"
              understand={understandQuantity({ ...RATE, refuse: aboveZero })}
              onCommit={(value) => keep({ wheelRates: { ...car.wheelRates, [corner]: value } })}
            />
            <Field
              label="Motion ratio"
              text={quantityField(NUMBER, car.motionRatios[corner])}
              inputMode="decimal"
              understand={understandQuantity({
                ...NUMBER,
                refuse: (value) => (value > 0 && value <= 5 ? null : 'Above 0, at most 5.'),
              })}
              onCommit={(value) => keep({ motionRatios: { ...car.motionRatios, [corner]: value } })}
            />
          </div>
        ))}
      </div>
      <Choice
        label="Cross % of this car is"
        options={[
          { value: 'as set', text: 'as in the settings' },
          ...CROSS_DIAGONALS.map((value) => ({ value, text: value })),
        ]}
        value={details.cross ?? 'as set'}
        onChange={(value) => change({ cross: value === 'as set' ? null : value })}
      />
    </section>
  );
};
