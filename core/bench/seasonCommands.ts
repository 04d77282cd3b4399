import { theirReadings } from '../scrutineering/theirReadings.ts';
import { seasonOf } from '../sheet/seasonOf.ts';
import type { Handlers } from './answering.ts';

/** What asking for the season does. */
export const SEASON_HANDLERS: Handlers<'open season'> = {
  'open season': ({ season, book }, { item, filter }) => ({
    ok: true,
    result: {
      is: 'season',
      points: [...seasonOf(season.all(), item, filter)],
      theirs: [
        ...theirReadings({
          authorities: book.all('authority'),
          pairs: book.all('pair'),
          item,
          carId: filter.carId,
        }),
      ],
    },
  }),
};
