import type { Standings } from '../contract/standings.ts';
import type { Handlers } from './answering.ts';
import { createStandings } from './standings.ts';

/** What asking for the standings does. */
export const standingHandlers = (): Handlers<'open standings'> => {
  let standings: (() => Standings) | null = null;
  return {
    'open standings': (bench) => {
      standings ??= createStandings(bench);
      return { ok: true, result: { is: 'standings', standings: standings() } };
    },
  };
};
