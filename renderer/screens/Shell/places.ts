/** The screens. Their numbers are their places in the whole job, so they never move. */
export const PLACES = [
  { place: 'patch', number: 1, text: 'Patch' },
  { place: 'pads', number: 2, text: 'Pads' },
  { place: 'balance', number: 3, text: 'Balance' },
  { place: 'adjust', number: 4, text: 'Adjust' },
  { place: 'measure', number: 5, text: 'Measure' },
  { place: 'compare', number: 6, text: 'Compare' },
  { place: 'scrutineering', number: 7, text: 'Scrutineering' },
  { place: 'season', number: 8, text: 'Season' },
  { place: 'garage', number: 9, text: 'Garage' },
] as const;

export type Place = (typeof PLACES)[number]['place'];

/** The screen of a number key; null for any other key. */
export const placeOfKey = (key: string): Place | null =>
  PLACES.find(({ number }) => String(number) === key)?.place ?? null;
