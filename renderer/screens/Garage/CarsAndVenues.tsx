import type { ReactElement } from 'react';
import { gravityNote } from '../../../core/answers/gravityNote.ts';
import type { Command } from '../../../core/contract/commands.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { notAside } from '../../../core/garage/notAside.ts';
import type { Thing, Use } from '../../../core/garage/whereUsed.ts';
import { newId } from '../../newId.ts';
import { keepCommand } from '../../parts/keepCommand.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { CarFields } from '../Balance/CarFields.tsx';
import { VenueFields } from '../Balance/VenueFields.tsx';
import { OwnedTable } from './OwnedTable.tsx';
import styles from './Screen.module.css';

export interface PartProps {
  readonly state: BenchState;
  /** Where a thing is used; null until the records were read. */
  readonly usesOf: (thing: Thing) => readonly Use[] | null;
}

/** Cars or venues: one is in use, any other can be used or set aside. */
const OneInUse = <T extends { readonly id: string; readonly name: string }>({
  is,
  things,
  inUse,
  choose,
  add,
  props: { state, usesOf },
}: {
  readonly is: 'car' | 'venue';
  readonly things: readonly T[];
  readonly inUse: T;
  readonly choose: (thing: T) => Command;
  /** The command of a new one, and what it has from the one in use. */
  readonly add: { readonly command: () => Command; readonly takes: string };
  readonly props: PartProps;
}): ReactElement => {
  const { note, give } = useCommand();
  const keepAside = ({ id, name }: T, isAside: boolean): void =>
    void give(keepCommand({ kind: 'set aside', subject: id, isAside }), {
      doing: 'Storing.',
      done: () => `${name} is ${isAside ? 'set aside; its records stay' : 'taken back'}.`,
    });
  return (
    <>
      <OwnedTable
        label={is === 'car' ? 'Cars' : 'Venues'}
        what={is}
        none=""
        rows={things.map((thing) => {
          const isUsed = thing.id === inUse.id;
          const isAside = state.aside.includes(thing.id);
          return {
            id: thing.id,
            name: thing.name,
            about: [...(isUsed ? ['in use'] : []), ...(isAside ? ['set aside'] : [])].join(', '),
            uses: usesOf({ is, id: thing.id }),
            does: [
              ...(isUsed || isAside
                ? []
                : [{ text: 'Use', onPress: () => void give(choose(thing)) }]),
              ...(isAside
                ? [{ text: 'Take back', onPress: () => keepAside(thing, false) }]
                : isUsed
                  ? []
                  : [{ text: 'Set aside', onPress: () => keepAside(thing, true) }]),
            ],
          };
        })}
      />
      <footer className={styles['actions']}>
        <NoteLine note={note} otherwise={`A new ${is} is used at once. ${add.takes}`} />
        <PushButton onPress={() => void give(add.command())}>Add a {is}</PushButton>
      </footer>
    </>
  );
};

export const Cars = (props: PartProps): ReactElement => {
  const { state } = props;
  const { car } = state;
  return (
    <>
      <OneInUse
        is="car"
        things={state.cars}
        inUse={car}
        choose={(next) => ({ do: 'use car', car: next })}
        add={{
          command: () => ({
            do: 'use car',
            car: { ...car, id: newId(), name: 'New car', cgHeight: null, details: null },
          }),
          takes: `It begins with wheelbase, tracks and rates of ${car.name}: type over them. A copy has all of it.`,
        }}
        props={props}
      />
      <CarFields car={car} cars={notAside(state.cars, state)} />
    </>
  );
};

export const Venues = (props: PartProps): ReactElement => {
  const { state } = props;
  const { venue } = state;
  return (
    <>
      <OneInUse
        is="venue"
        things={state.venues}
        inUse={venue}
        choose={(next) => ({ do: 'use venue', venue: next })}
        add={{
          command: () => ({
            do: 'use venue',
            venue: { ...venue, id: newId(), name: 'New venue', measuredGravity: null },
          }),
          takes: `It begins with latitude and height of ${venue.name}: type over them.`,
        }}
        props={props}
      />
      <VenueFields
        venue={venue}
        venues={notAside(state.venues, state)}
        gravity={state.gravity}
        note={gravityNote(state, null)}
      />
    </>
  );
};
