import type { Answer } from './answer.ts';
import { balanceAnswer } from './balanceAnswer.ts';
import type { Seen } from './cornerCheck.ts';
import { padsAnswer } from './padsAnswer.ts';

/** How the answers stand that need nothing but the state and the newest frame. */
export interface RailTones {
  readonly pads: Answer['tone'];
  readonly balance: Answer['tone'];
}

/** What a tone means where only a shape has room. */
export const TONE_WORDS: Readonly<Record<Answer['tone'], string>> = {
  calm: 'good',
  wait: 'not yet',
  alarm: 'wrong',
};

export const railTones = (seen: Seen): RailTones => ({
  pads: padsAnswer(seen).tone,
  balance: balanceAnswer(seen).tone,
});
