import { fault } from '../faults.ts';
import { second } from '../units.ts';
import type { Outcome, PadsPort } from './ports.ts';

const absent = async (serial: string): Promise<Outcome> => ({
  ok: false,
  fault: fault('pad-absent', second(0), { subject: serial }),
});

/** No source is open: nothing comes, and every pad asked for is absent. */
export const NO_PADS: PadsPort = {
  start: () => async () => {},
  identify: absent,
  setRate: absent,
  lastPayload: () => null,
};
