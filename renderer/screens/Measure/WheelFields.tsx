import type { ReactElement } from 'react';
import {
  CORNERS,
  cornerLabel,
  perCorner,
  type Corner,
  type CornerLabelStyle,
} from '../../../core/corners.ts';
import { MM } from '../../../core/format/valueShown.ts';
import type { CarDetails } from '../../../core/sheet/carDetails.ts';
import { Field } from '../../parts/Field.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { quantityField, understandQuantity } from '../../parts/understandQuantity.ts';
import { aboveZero, upTo } from './lengths.ts';
import styles from './Screen.module.css';

type SetUpWheels = NonNullable<CarDetails['setUpWheels']>;
type Tyres = NonNullable<CarDetails['tyres']>;

const PRESSURE = { kind: 'pressure', unit: 'bar' } as const;
const NOT_NEGATIVE = (value: number): string | null => (value >= 0 ? null : 'Without a sign.');

/** A wheel and a tyre to be typed over; no car has just these. */
const FIRST_WHEEL = { radius: { value: 0.33, u: 5e-5 }, measuringDiameter: 0.457 };
const FIRST_TYRE = {
  loadedRadius: { value: 0.33, u: 1e-3 },
  pressure: 1.5e5,
  load: 3000,
  verticalRate: null,
  perPressure: null,
  measuringDiameter: 0.457,
};

/** Rigid set-up wheels and loaded tyres: what ride heights, toes and the axle lift are made with. */
export const WheelFields = ({
  details,
  labels,
  gravity,
  change,
}: {
  readonly details: CarDetails;
  readonly labels: CornerLabelStyle;
  /** m/s², for the load on a tyre, which is typed as a mass. */
  readonly gravity: number;
  readonly change: (changes: Partial<CarDetails>) => void;
}): ReactElement => {
  const { setUpWheels, tyres } = details;
  const length = (about: {
    readonly label: string;
    readonly value: number;
    readonly most: number;
    readonly onCommit: (value: number) => void;
  }) => (
    <Field
      label={about.label}
      text={quantityField(MM, about.value)}
      inputMode="decimal"
      understand={understandQuantity({ ...MM, refuse: upTo(about.most) })}
      onCommit={about.onCommit}
    />
  );
  const known = (label: string, u: number, onCommit: (u: number) => void) => (
    <Field
      label={label}
      text={quantityField(MM, u)}
      inputMode="decimal"
      understand={understandQuantity({ ...MM, refuse: NOT_NEGATIVE })}
      onCommit={onCommit}
    />
  );
  const wheel = (corner: Corner, changes: Partial<SetUpWheels[Corner]>): void => {
    if (setUpWheels)
      change({ setUpWheels: { ...setUpWheels, [corner]: { ...setUpWheels[corner], ...changes } } });
  };
  const tyre = (corner: Corner, changes: Partial<Tyres[Corner]>): void => {
    if (tyres) change({ tyres: { ...tyres, [corner]: { ...tyres[corner], ...changes } } });
  };
  return (
    <section className={styles['part']} aria-label="Wheels">
      <h2>Set-up wheels and tyres</h2>
      {setUpWheels ? (
        <div className={styles['cards']}>
          {CORNERS.map((corner) => {
            const name = `${cornerLabel(corner, labels)} set-up wheel`;
            const own = setUpWheels[corner];
            return (
              <div key={corner} className={styles['card']} role="group" aria-label={name}>
                <h3>{name}</h3>
                {length({
                  label: 'Radius',
                  value: own.radius.value,
                  most: 1,
                  onCommit: (value) => wheel(corner, { radius: { ...own.radius, value } }),
                })}
                {known('Radius is good to, standard', own.radius.u, (u) =>
                  wheel(corner, { radius: { ...own.radius, u } }),
                )}
                {length({
                  label: 'Measuring diameter',
                  value: own.measuringDiameter,
                  most: 1.5,
                  onCommit: (measuringDiameter) => wheel(corner, { measuringDiameter }),
                })}
              </div>
            );
          })}
        </div>
      ) : (
        <div className={styles['buttons']}>
          <span className={styles['help']}>No set-up wheels are known.</span>
          <PushButton small onPress={() => change({ setUpWheels: perCorner(() => FIRST_WHEEL) })}>
            Describe set-up wheels
          </PushButton>
        </div>
      )}
      {tyres ? (
        <div className={styles['cards']}>
          {CORNERS.map((corner) => {
            const name = `${cornerLabel(corner, labels)} tyre`;
            const own = tyres[corner];
            return (
              <div key={corner} className={styles['card']} role="group" aria-label={name}>
                <h3>{name}</h3>
                {length({
                  label: 'Loaded radius',
                  value: own.loadedRadius.value,
                  most: 1,
                  onCommit: (value) =>
                    tyre(corner, { loadedRadius: { ...own.loadedRadius, value } }),
                })}
                {known('Radius is good to, standard', own.loadedRadius.u, (u) =>
                  tyre(corner, { loadedRadius: { ...own.loadedRadius, u } }),
                )}
                <Field
                  label="At a pressure of"
                  text={quantityField(PRESSURE, own.pressure)}
                  inputMode="decimal"
                  understand={understandQuantity({
                    ...PRESSURE,
                    refuse: (value) =>
                      value >= 0 && value <= 1e6 ? null : 'From nothing to 10 bar.',
                  })}
                  onCommit={(pressure) => tyre(corner, { pressure })}
                />
                <Field
                  label="Under a mass of"
                  text={quantityField({ kind: 'mass', unit: 'kg' }, own.load / gravity)}
                  inputMode="decimal"
                  understand={understandQuantity({ kind: 'mass', unit: 'kg', refuse: aboveZero })}
                  onCommit={(mass) => tyre(corner, { load: mass * gravity })}
                />
                {length({
                  label: 'Measuring diameter of the rim',
                  value: own.measuringDiameter,
                  most: 1.5,
                  onCommit: (measuringDiameter) => tyre(corner, { measuringDiameter }),
                })}
              </div>
            );
          })}
        </div>
      ) : (
        <div className={styles['buttons']}>
          <span className={styles['help']}>No tyres are known.</span>
          <PushButton small onPress={() => change({ tyres: perCorner(() => FIRST_TYRE) })}>
            Describe tyres
          </PushButton>
        </div>
      )}
    </section>
  );
};
