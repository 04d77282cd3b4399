import type { ReactElement } from 'react';
import { fixed } from '../../../core/format/number.ts';
import { typedNumber } from '../../../core/format/typed.ts';
import type { Venue } from '../../../core/sheet/venue.ts';
import { newId } from '../../newId.ts';
import { Field, type Understood } from '../../parts/Field.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './OutingPanel.module.css';
import { understandName } from '../../parts/understandName.ts';

const SAVING = { doing: 'Storing the venue.', done: () => 'Venue stored.' } as const;

const numberBetween =
  (least: number, most: number, unit: string, decimals: number) =>
  (text: string): Understood<number> => {
    const typed = typedNumber(text, unit);
    if (!typed.ok) return typed;
    if (typed.value < least || typed.value > most)
      return { ok: false, why: `Between ${fixed(least, 1)} and ${fixed(most, 1)} ${unit}.` };
    return { ok: true, value: typed.value, said: `${fixed(typed.value, decimals)} ${unit}` };
  };

const gravityField = numberBetween(9.7, 9.9, 'm/s²', 5);

/** Where the pads stand: latitude and height give gravity, unless it was measured. */
export const VenueFields = ({
  venue,
  venues,
  gravity,
  note: spans,
}: {
  readonly venue: Venue;
  readonly venues: readonly Venue[];
  readonly gravity: number;
  /** What gravity does here against where the spans were made. */
  readonly note: string | null;
}): ReactElement => {
  const { note, give } = useCommand();
  const use = (next: Venue): void => void give({ do: 'use venue', venue: next }, SAVING);
  return (
    <section className={styles['part']}>
      <div className={styles['choose']}>
        <Pick
          label="Venue"
          options={venues.map(({ id, name }) => ({ value: id, text: name }))}
          value={venue.id}
          onChange={(id) => {
            const chosen = venues.find((each) => each.id === id);
            if (chosen) use(chosen);
          }}
        />
        <PushButton
          small
          onPress={() => use({ ...venue, id: newId(), name: `${venue.name} copy` })}
        >
          Copy
        </PushButton>
      </div>
      <Field
        label="Name"
        text={venue.name}
        understand={understandName}
        onCommit={(name) => use({ ...venue, name })}
      />
      <Field
        label="Latitude, north positive"
        text={`${fixed(venue.latitude, 2)}°`}
        inputMode="decimal"
        understand={numberBetween(-90, 90, '°', 2)}
        onCommit={(latitude) => use({ ...venue, latitude })}
      />
      <Field
        label="Height over the sea"
        text={`${fixed(venue.height, 0)} m`}
        inputMode="decimal"
        understand={numberBetween(-500, 6000, 'm', 0)}
        onCommit={(height) => use({ ...venue, height })}
      />
      <Field
        label="Measured g"
        text={venue.measuredGravity === null ? '' : `${fixed(venue.measuredGravity, 5)} m/s²`}
        inputMode="decimal"
        understand={(text): Understood<number | null> =>
          text.trim() === '' ? { ok: true, value: null, said: 'computed' } : gravityField(text)
        }
        onCommit={(measuredGravity) => use({ ...venue, measuredGravity })}
      />
      <p className={styles['since']}>
        Gravity used: {fixed(gravity, 5)} m/s²,{' '}
        {venue.measuredGravity === null ? 'from latitude and height' : 'as measured'}.
        {spans === null ? '' : ` ${spans}`}
      </p>
      <NoteLine note={note} />
    </section>
  );
};
