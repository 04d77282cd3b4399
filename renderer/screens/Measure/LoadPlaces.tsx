import { useState, type ReactElement } from 'react';
import { MM } from '../../../core/format/valueShown.ts';
import type { BallastPlace } from '../../../core/sheet/carDetails.ts';
import { newId } from '../../newId.ts';
import { Field } from '../../parts/Field.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { understandName } from '../../parts/understandName.ts';
import {
  quantityField,
  understandOrNone,
  understandQuantity,
} from '../../parts/understandQuantity.ts';
import type { DetailsProps } from './CarPart.tsx';
import { within } from './lengths.ts';
import styles from './Screen.module.css';

const VOLUME = { kind: 'volume', unit: 'l' } as const;
const DENSITY = { kind: 'density', unit: 'kg/l' } as const;
const AHEAD = 'Ahead of the front axle (behind −)';
const LEFT = 'Left of the middle (right −)';
const FIRST_TANK = { x: -1.5, y: 0, capacity: 0.06, density: 745 };

/** Where mass comes and goes: ballast, fuel, driver. */
export const LoadPlaces = ({ measure, details, change }: DetailsProps): ReactElement => {
  const [takenOut, setTakenOut] = useState<BallastPlace | null>(null);
  const { ballastPlaces: places, fuelTank, driverPlace } = details;
  const mass = { kind: 'mass', unit: measure.state.settings.massUnit } as const;
  const keep = (ballastPlaces: BallastPlace[]): void => change({ ballastPlaces });
  const one = (next: BallastPlace): void =>
    keep(places.map((each) => (each.id === next.id ? next : each)));
  const length = (
    label: string,
    value: number,
    {
      span,
      onCommit,
    }: { readonly span: readonly [number, number]; readonly onCommit: (value: number) => void },
  ) => (
    <Field
      label={label}
      text={quantityField(MM, value)}
      inputMode="decimal"
      understand={understandQuantity({ ...MM, refuse: within(...span) })}
      onCommit={onCommit}
    />
  );
  const X = [-15, 5] as const;
  const Y = [-3, 3] as const;
  const limit = (place: BallastPlace, key: 'least' | 'most', words: string) => (
    <Field
      label={words}
      text={quantityField(mass, place[key])}
      inputMode="decimal"
      understand={understandOrNone({
        ...mass,
        none: 'no limit',
        refuse: (value) => (value >= 0 && value <= 500 ? null : 'From nothing to 500 kg.'),
      })}
      onCommit={(value) => one({ ...place, [key]: value })}
    />
  );
  return (
    <section className={styles['part']} aria-label="Places of mass">
      <h2>Ballast, fuel, driver</h2>
      <div className={styles['rows']}>
        {places.map((place) => (
          <div key={place.id} role="group" aria-label={place.name}>
            <Field
              label="Ballast place"
              text={place.name}
              understand={understandName}
              onCommit={(name) => one({ ...place, name: name.slice(0, 60) })}
            />
            {length(AHEAD, place.x, {
              span: X,
              onCommit: (x) => one({ ...place, x }),
            })}
            {length(LEFT, place.y, {
              span: Y,
              onCommit: (y) => one({ ...place, y }),
            })}
            {length('Over the ground', place.z, {
              span: [0, 3],
              onCommit: (z) => one({ ...place, z }),
            })}
            {limit(place, 'least', 'At least')}
            {limit(place, 'most', 'At most')}
            <PushButton
              small
              look="quiet"
              aria-label={`Take out ${place.name}`}
              onPress={() => {
                setTakenOut(place);
                keep(places.filter(({ id }) => id !== place.id));
              }}
            >
              Take out
            </PushButton>
          </div>
        ))}
      </div>
      <div className={styles['buttons']}>
        <PushButton
          small
          onPress={() =>
            keep([
              ...places,
              {
                id: newId(),
                name: `place ${places.length + 1}`,
                x: -1,
                y: 0,
                z: 0.1,
                least: null,
                most: null,
              },
            ])
          }
        >
          Add a ballast place
        </PushButton>
        {takenOut && !places.some(({ id }) => id === takenOut.id) ? (
          <PushButton small look="quiet" onPress={() => keep([...places, takenOut])}>
            Put back {takenOut.name}
          </PushButton>
        ) : null}
      </div>
      <div className={styles['cards']}>
        <div className={styles['card']} role="group" aria-label="Fuel tank">
          <h3>Fuel tank</h3>
          {fuelTank ? (
            <>
              {length(AHEAD, fuelTank.x, {
                span: X,
                onCommit: (x) => change({ fuelTank: { ...fuelTank, x } }),
              })}
              {length(LEFT, fuelTank.y, {
                span: Y,
                onCommit: (y) => change({ fuelTank: { ...fuelTank, y } }),
              })}
              <Field
                label="Holds"
                text={quantityField(VOLUME, fuelTank.capacity)}
                inputMode="decimal"
                understand={understandQuantity({
                  ...VOLUME,
                  refuse: (value) =>
                    value > 0 && value <= 1 ? null : 'Above zero, at most 1000 l.',
                })}
                onCommit={(capacity) => change({ fuelTank: { ...fuelTank, capacity } })}
              />
              <Field
                label="Density"
                text={quantityField(DENSITY, fuelTank.density)}
                inputMode="decimal"
                understand={understandQuantity({
                  ...DENSITY,
                  refuse: (value) =>
                    value >= 300 && value <= 1200 ? null : 'From 0.3 to 1.2 kg/l.',
                })}
                onCommit={(density) => change({ fuelTank: { ...fuelTank, density } })}
              />
            </>
          ) : (
            <PushButton small onPress={() => change({ fuelTank: FIRST_TANK })}>
              Give its place
            </PushButton>
          )}
        </div>
        <div className={styles['card']} role="group" aria-label="Driver">
          <h3>Driver</h3>
          {driverPlace ? (
            <>
              {length(AHEAD, driverPlace.x, {
                span: X,
                onCommit: (x) => change({ driverPlace: { ...driverPlace, x } }),
              })}
              {length(LEFT, driverPlace.y, {
                span: Y,
                onCommit: (y) => change({ driverPlace: { ...driverPlace, y } }),
              })}
            </>
          ) : (
            <PushButton small onPress={() => change({ driverPlace: { x: -1.3, y: 0 } })}>
              Give the place
            </PushButton>
          )}
        </div>
      </div>
    </section>
  );
};
