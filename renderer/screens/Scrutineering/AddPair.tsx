import { useState, type ReactElement } from 'react';
import { normalGravity } from '../../../core/calibration/gravity.ts';
import type { KeptPair } from '../../../core/contract/scrutineering.ts';
import { dayText, typedDay } from '../../../core/format/day.ts';
import { notAside } from '../../../core/garage/notAside.ts';
import { readingStateOf } from '../../../core/scrutineering/quantity.ts';
import type { Item } from '../../../core/sheet/items.ts';
import type { Venue } from '../../../core/sheet/venue.ts';
import { newId } from '../../newId.ts';
import { Field, type Understood } from '../../parts/Field.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { understandName } from '../../parts/understandName.ts';
import { quantityField, understandQuantity } from '../../parts/understandQuantity.ts';
import styles from './Screen.module.css';
import { StateFields } from './StateFields.tsx';
import type { Scrutineering } from './useScrutineering.ts';
import { wantedOf } from '../../../core/format/wantedOf.ts';

const understandDay = (text: string): Understood<number> => {
  const day = typedDay(text);
  return day === null
    ? { ok: false, why: 'A day, for example 2026-05-09.' }
    : { ok: true, value: day, said: dayText(day) };
};

const gravityOf = (venue: Venue): number => venue.measuredGravity ?? normalGravity(venue);

type States = KeptPair['states'];

/** A pair: what we read and what they read of the same car, with both states. */
export const AddPair = ({
  own,
  items,
}: {
  readonly own: Scrutineering;
  readonly items: readonly Item[];
}): ReactElement => {
  const { state, sources } = own;
  const [itemId, setItem] = useState<string | null>(null);
  const [event, setEvent] = useState(state.outing.name);
  const [day, setDay] = useState(sources.day);
  const [venueId, setVenue] = useState(state.venue.id);
  const [gravityId, setGravity] = useState<string | null>(null);
  const [typedOurs, setOurs] = useState<number | null>(null);
  const [theirs, setTheirs] = useState<number | null>(null);
  const [states, setStates] = useState<Partial<States>>({});
  const item = items.find(({ id }) => id === itemId) ?? items[0];
  if (!item) return <p className={styles['empty']}>This car has no such item.</p>;

  const wanted = wantedOf(item, state.settings.massUnit);
  const field = understandQuantity({
    ...wanted,
    refuse: (value) => {
      const [low, high] = item.possible;
      return value < low || value > high ? 'That cannot be: look at the unit.' : null;
    },
  });
  const reading = sources.ourReading(item);
  const ours = typedOurs ?? (reading.is === 'read' ? reading.value.value : null);
  const both: States = {
    ours: states.ours ?? readingStateOf(reading.is === 'read' ? reading.state : state.carState),
    theirs: states.theirs ??
      sources.authority?.reads ?? { seatMass: null, fuelMass: null, tyres: null },
  };
  const venue = state.venues.find(({ id }) => id === venueId) ?? state.venue;
  const venues = notAside(state.venues, state);
  const taken = state.venues.find(({ id }) => id === gravityId) ?? venue;
  const add = async (): Promise<void> => {
    if (ours === null || theirs === null) return;
    const isKept = await own.keepPair({
      id: newId(),
      item: item.id,
      carId: state.car.id,
      event,
      label: `${dayText(day)}, ${venue.name}`,
      day,
      ours,
      theirs,
      gravity:
        item.quantity === 'mass' && taken.id !== venue.id
          ? { taken: gravityOf(taken), there: gravityOf(venue) }
          : null,
      states: both,
    });
    // What was not stored stays in the fields.
    if (isKept) {
      setOurs(null);
      setTheirs(null);
    }
  };
  return (
    <section className={styles['part']} aria-label="Add a pair">
      <h2>Add a pair</h2>
      <div className={styles['fields']}>
        <Pick
          label="Item"
          options={items.map(({ id, label }) => ({ value: id, text: label }))}
          value={item.id}
          onChange={setItem}
        />
        <Field label="Event" text={event} understand={understandName} onCommit={setEvent} />
        <Field label="Day" text={dayText(day)} understand={understandDay} onCommit={setDay} />
        <Pick
          label="Venue"
          options={venues.map(({ id, name }) => ({ value: id, text: name }))}
          value={venue.id}
          onChange={setVenue}
        />
        <Field
          label="We read"
          text={quantityField(wanted, ours)}
          inputMode="decimal"
          understand={field}
          onCommit={setOurs}
        />
        <Field
          label="They read"
          text={quantityField(wanted, theirs)}
          inputMode="decimal"
          understand={field}
          onCommit={setTheirs}
        />
        {item.quantity === 'mass' ? (
          <Pick
            label="Ours taken with the gravity of"
            options={venues.map(({ id, name }) => ({ value: id, text: name }))}
            value={taken.id}
            onChange={setGravity}
          />
        ) : null}
      </div>
      <StateFields
        legend="When we read it"
        massUnit={state.settings.massUnit}
        state={both.ours}
        onChange={(next) => setStates({ ...states, ours: next })}
      />
      <StateFields
        legend="When they read it"
        massUnit={state.settings.massUnit}
        state={both.theirs}
        onChange={(next) => setStates({ ...states, theirs: next })}
      />
      <footer className={styles['actions']}>
        <NoteLine
          note={own.note}
          otherwise={
            typedOurs === null && reading.is === 'read'
              ? `Ours is that of the newest ${reading.from}; type over it if the pair is older.`
              : ''
          }
        />
        <PushButton
          look="main"
          isDisabled={ours === null || theirs === null}
          onPress={() => void add()}
        >
          Add the pair
        </PushButton>
      </footer>
    </section>
  );
};
