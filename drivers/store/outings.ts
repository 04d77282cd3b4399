import type { Outing } from '../../core/bench/storePort.ts';
import { insert, type Adding } from './adding.ts';

/** Outings are the `sessions` of the database; those of the practice rig are kept apart. */
export const createOutings = ({ db, stamp }: Adding) => {
  const add = insert(db, 'sessions', 'id added_at event_id venue_version name begun_at practice');
  const newest = db.prepare<{ id: string; name: string; begun_at: number; practice: number }>(
    'SELECT id, name, begun_at, practice FROM sessions WHERE practice = @practice ORDER BY seq DESC LIMIT 1',
  );

  return {
    add: (outing: Outing, venueVersion: string | null): void =>
      add({
        ...stamp(),
        id: outing.id,
        event_id: null,
        venue_version: venueVersion,
        name: outing.name,
        begun_at: outing.begunAt,
        practice: outing.practice ? 1 : 0,
      }),
    newest: (practice: boolean): Outing | null => {
      const row = newest.get({ practice: practice ? 1 : 0 });
      if (!row) return null;
      return { id: row.id, name: row.name, begunAt: row.begun_at, practice: row.practice === 1 };
    },
  };
};
