import type { Standing } from '../contract/standings.ts';
import { balanceAnswer } from './balanceAnswer.ts';
import type { Seen } from './cornerCheck.ts';
import { padsAnswer } from './padsAnswer.ts';

/** How the answers stand that need nothing but the state and the newest frame. */
export interface LiveStandings {
  readonly pads: Standing;
  readonly balance: Standing;
}

export const liveStandings = (seen: Seen): LiveStandings => ({
  pads: padsAnswer(seen),
  balance: balanceAnswer(seen),
});
