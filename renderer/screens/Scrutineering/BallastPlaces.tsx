import { useState, type ReactElement } from 'react';
import { MM, valueText } from '../../../core/format/valueShown.ts';
import { BLANK_CAR_DETAILS } from '../../../core/sheet/blankCarDetails.ts';
import type { BallastPlace } from '../../../core/sheet/carDetails.ts';
import { newId } from '../../newId.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Field } from '../../parts/Field.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { understandName } from '../../parts/understandName.ts';
import {
  quantityField,
  understandOrNone,
  understandQuantity,
} from '../../parts/understandQuantity.ts';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './Screen.module.css';
import type { BallastAsked } from './useBallast.ts';
import type { Scrutineering } from './useScrutineering.ts';

const within =
  (low: number, high: number) =>
  (value: number): string | null =>
    value < low || value > high ? `From ${valueText(MM, low)} to ${valueText(MM, high)}.` : null;

const whereText = ({ x, y }: BallastPlace): string => {
  const side =
    y === 0 ? 'in the middle' : `${valueText(MM, Math.abs(y))} ${y > 0 ? 'left' : 'right'}`;
  return `${valueText(MM, Math.abs(x))} ${x > 0 ? 'ahead of' : 'behind'} the front axle, ${side}`;
};

type Draft = Omit<BallastPlace, 'id'>;
const DRAFT: Draft = { name: '', x: -1, y: 0, z: 0.1, least: null, most: null };

/** A place that the car has not yet. */
const AddPlace = ({
  onAdd,
  massUnit,
}: {
  readonly onAdd: (place: BallastPlace) => void;
  readonly massUnit: 'kg' | 'lb';
}): ReactElement => {
  const [draft, setDraft] = useState(DRAFT);
  const length = (key: 'x' | 'y' | 'z', label: string, low: number, high: number) => (
    <Field
      label={label}
      text={quantityField(MM, draft[key])}
      inputMode="decimal"
      understand={understandQuantity({ ...MM, refuse: within(low, high) })}
      onCommit={(value) => setDraft({ ...draft, [key]: value })}
    />
  );
  const mass = { kind: 'mass', unit: massUnit } as const;
  return (
    <div className={styles['fields']} role="group" aria-label="Another place">
      <Field
        label="Name of another place"
        text={draft.name}
        understand={understandName}
        onCommit={(name) => setDraft({ ...draft, name: name.slice(0, 60) })}
      />
      {length('x', 'Ahead of the front axle (behind: −)', -15, 5)}
      {length('y', 'Left of the middle (right: −)', -2, 2)}
      {length('z', 'Over the ground', 0, 3)}
      <Field
        label="Most mass there"
        text={quantityField(mass, draft.most)}
        inputMode="decimal"
        understand={understandOrNone({
          ...mass,
          none: 'no limit',
          refuse: (value) => (value < 0 || value > 500 ? 'From nothing to 500 kg.' : null),
        })}
        onCommit={(most) => setDraft({ ...draft, most })}
      />
      <PushButton
        isDisabled={draft.name === ''}
        onPress={() => {
          onAdd({ ...draft, id: newId() });
          setDraft(DRAFT);
        }}
      >
        Add the place
      </PushButton>
    </div>
  );
};

/** The places of this car: their limits, what was in them when it was weighed, and whether they may be used. */
export const BallastPlaces = ({
  own,
  asked,
}: {
  readonly own: Scrutineering;
  readonly asked: BallastAsked;
}): ReactElement | null => {
  const { note, give } = useCommand();
  const { car, settings } = own.state;
  const { chosen } = own;
  if (!chosen) return null;
  const { authority } = chosen;
  const details = car.details ?? BLANK_CAR_DETAILS;
  const wanted = { kind: 'mass', unit: settings.massUnit } as const;
  const allow = (place: string, isAllowed: boolean): void =>
    own.changeAuthority((now) => {
      const others = now.ballast.notAt.filter((each) => each !== place);
      return {
        ...now,
        ballast: { ...now.ballast, notAt: isAllowed ? others : [...others, place] },
      };
    });
  return (
    <section className={styles['part']} aria-label="Places">
      <h2>Places in this car</h2>
      <ul className={styles['limits']}>
        {details.ballastPlaces.map((place) => (
          <li key={place.id}>
            <div>
              <strong>{place.name}</strong>
              <small>
                {whereText(place)};{' '}
                {place.most === null ? 'no limit' : `at most ${valueText(wanted, place.most)}`}
                {place.least === null ? '' : `, at least ${valueText(wanted, place.least)}`}
              </small>
            </div>
            <Field
              label="In it when weighed"
              text={quantityField(wanted, asked.onBoard[place.id] ?? null)}
              inputMode="decimal"
              understand={understandQuantity({
                ...wanted,
                refuse: (value) => (value < 0 || value > 500 ? 'From nothing to 500 kg.' : null),
              })}
              onCommit={(mass) => asked.setOnBoard(place.id, mass)}
            />
            <Choice
              label="Rules allow it"
              options={[
                { value: 'yes', text: 'yes' },
                { value: 'no', text: 'no' },
              ]}
              value={authority.ballast.notAt.includes(place.id) ? 'no' : 'yes'}
              onChange={(value) => allow(place.id, value === 'yes')}
            />
          </li>
        ))}
      </ul>
      {Object.values(asked.onBoard).some((mass) => mass === null) ? (
        <p className={styles['key']}>
          A dash: the record does not say, taken as empty when the car was weighed.
        </p>
      ) : null}
      <AddPlace
        massUnit={settings.massUnit}
        onAdd={(place) =>
          void give(
            {
              do: 'use car',
              car: {
                ...car,
                details: { ...details, ballastPlaces: [...details.ballastPlaces, place] },
              },
            },
            { doing: 'Storing.', done: () => `${place.name} is added.` },
          )
        }
      />
      <NoteLine note={note} />
    </section>
  );
};
