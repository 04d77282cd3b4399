import { createIdMaker } from '../core/uuidV7.ts';
import { wallClock } from './clockShown.ts';

/** A new UUIDv7, for a record that begins on the screen. */
export const newId = createIdMaker({
  wallClock,
  randomBytes: (count) => crypto.getRandomValues(new Uint8Array(count)),
});
