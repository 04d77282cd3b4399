import { carStateSchema, type CarState } from '../../core/sheet/carState.ts';
import { insert, type Adding } from './adding.ts';
import { checksumOf, verified } from './checksum.ts';
import { fromJson, type Reading } from './reading.ts';

/** The state of the car and what the crew agreed it should be: the newest pair counts. */
export const createCarStates = ({ db, stamp }: Adding, reading: Reading) => {
  const add = insert(db, 'car_states', 'id added_at car_version state agreed crc32');
  const newest = db.prepare<{
    id: string;
    state: string;
    agreed: string;
    crc32: number | null;
  }>('SELECT id, state, agreed, crc32 FROM car_states ORDER BY seq DESC LIMIT 1');
  const json = (state: CarState): string => JSON.stringify(carStateSchema.parse(state));

  return {
    add: (state: CarState, agreed: CarState, carVersion: string | null): void => {
      const both = { state: json(state), agreed: json(agreed) };
      const crc32 = checksumOf(both.state + both.agreed);
      add({ ...stamp(), car_version: carVersion, ...both, crc32 });
    },
    newest: (): { readonly state: CarState | null; readonly agreed: CarState | null } => {
      const row = newest.get();
      if (!row) return { state: null, agreed: null };
      const parse = (text: string): CarState | null =>
        reading.parse(carStateSchema, `car state ${row.id}`, () => {
          verified(row.state + row.agreed, row.crc32);
          return fromJson(text);
        });
      return { state: parse(row.state), agreed: parse(row.agreed) };
    },
    /** The newest state record, where it says the same as `state`; else null. */
    idOf: (state: CarState): string | null => {
      const row = newest.get();
      return row?.state === json(state) ? row.id : null;
    },
  };
};
