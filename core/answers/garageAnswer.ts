import type { BenchState } from '../contract/events.ts';
import type { KeptOf } from '../contract/kept.ts';
import { capital } from '../format/capital.ts';
import { counted } from '../format/counted.ts';
import { EXAMPLE_CAR } from '../sheet/car.ts';
import { notAside } from '../garage/notAside.ts';
import { authoritiesKept, platesKept } from '../scrutineering/keptScrutineering.ts';
import { gaugesKept } from '../sheet/gaugesKnown.ts';
import { listed, type Answer } from './answer.ts';
import { spanDue } from './padsAnswer.ts';

/** What is kept beside the state of the bench; without what is set aside. */
export interface Owned {
  readonly gauges: number;
  /** Sizes of ballast plates of which there are any. */
  readonly plates: number;
  readonly authorities: number;
}

/** The counts, of the kept records. */
export const ownedOf = (kept: {
  readonly gauges: readonly KeptOf<'gauge'>[];
  readonly plates: readonly KeptOf<'plates'>[];
  readonly authorities: readonly KeptOf<'authority'>[];
}): Owned => ({
  gauges: gaugesKept(kept.gauges).length,
  plates: platesKept(kept.plates).filter(({ count }) => count > 0).length,
  authorities: authoritiesKept(kept.authorities).length,
});

const some = (count: number, one: string, many?: string): readonly string[] =>
  count === 0 ? [] : [counted(count, one, many)];

/** What is owned and known, in one sentence. */
const sentence = (state: BenchState, owned: Owned, isExample: boolean): string => {
  const practice = state.practice === null ? '' : 'practice ';
  const things = [
    ...(isExample ? ['the example car'] : some(notAside(state.cars, state).length, 'car')),
    ...some(state.pads.length, `${practice}pad`),
    ...some(state.massSets.length, 'mass set'),
    ...some(owned.gauges, 'gauge'),
    ...some(owned.plates, 'size of plates', 'sizes of plates'),
    ...some(owned.authorities, 'team of scrutineers', 'teams of scrutineers'),
    ...some(notAside(state.venues, state).length, 'venue'),
  ];
  const text = listed(things);
  return text === '' ? 'Nothing yet.' : `${capital(text)}.`;
};

/**
 * What the team owns and Millpond knows of it; what of it is due; and whether a copy of the records lies
 * anywhere.
 */
export const garageAnswer = (state: BenchState, owned: Owned): Answer => {
  const [car, ...others] = notAside(state.cars, state);
  const isExample =
    others.length === 0 && car?.id === EXAMPLE_CAR.id && car.name === EXAMPLE_CAR.name;
  const { folder, trouble } = state.copies;
  const due = state.pads.flatMap((pad) => spanDue(pad, pad.serial ?? pad.name, state.wallAt) ?? []);
  const notes: readonly { readonly about: string; readonly text: string }[] = [
    ...(trouble === null
      ? []
      : [{ about: 'not copied', text: 'The records could not be copied.' }]),
    ...due.map((text) => ({ about: `due ${text.split(' ')[0] ?? ''}`, text })),
    ...(isExample && state.practice === null
      ? [{ about: 'example', text: 'Add your own car.' }]
      : []),
    ...(trouble === null && folder === null
      ? [{ about: 'no copies', text: 'No copies are made: choose a folder.' }]
      : []),
  ];
  const calm = notes.length === 0;
  return {
    about: calm ? 'copied' : notes.map(({ about }) => about).join(),
    text: [sentence(state, owned, isExample), ...notes.map(({ text }) => text)].join(' '),
    tone: trouble !== null ? 'alarm' : calm ? 'calm' : 'wait',
  };
};
