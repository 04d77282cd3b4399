import { listed, type Answer } from './answer.ts';

/** What is owned and known, as far as it was typed or heard. */
export interface Owned {
  readonly cars: number;
  readonly pads: number;
  readonly massSets: number;
  /** Sizes of ballast plates. */
  readonly plates: number;
  readonly authorities: number;
  readonly venues: number;
}

const counted = (count: number, one: string, many: string): readonly string[] =>
  count === 0 ? [] : [`${count} ${count === 1 ? one : many}`];

/** What the team owns and Millpond knows of it, and whether a copy of it lies anywhere. */
export const garageAnswer = (about: {
  readonly owned: Owned;
  /** Practising: the pads are not anybody's. */
  readonly isPractice: boolean;
  readonly copies: { readonly folder: string | null; readonly trouble: string | null };
}): Answer => {
  const { owned, isPractice, copies } = about;
  const things = [
    ...counted(owned.cars, 'car', 'cars'),
    ...counted(
      owned.pads,
      isPractice ? 'practice pad' : 'pad',
      isPractice ? 'practice pads' : 'pads',
    ),
    ...counted(owned.massSets, 'mass set', 'mass sets'),
    ...counted(owned.plates, 'size of plates', 'sizes of plates'),
    ...counted(owned.authorities, 'authority', 'authorities'),
    ...counted(owned.venues, 'venue', 'venues'),
  ];
  const text = things.length === 0 ? 'Nothing yet.' : `${listed(things)}.`;
  if (copies.trouble !== null)
    return { about: 'not copied', text: `${text} The records could not be copied.`, tone: 'alarm' };
  if (copies.folder === null)
    return {
      about: 'no copies',
      text: `${text} No copies are made: choose a folder.`,
      tone: 'wait',
    };
  return { about: 'copied', text, tone: 'calm' };
};
