import type { Command, Refusal } from '../contract/commands.ts';
import { FAULTS } from '../faults.ts';
import type { Outcome } from './ports.ts';
import type { Answer } from './screens.ts';
import type { BenchWorkings } from './workings.ts';

/** How commands are answered: done, or refused with what is in the way and what to do next. */

export const DONE: Answer = { ok: true, result: { is: 'done' } };

export const refuse = (why: string, next: string, corner: Refusal['corner'] = null): Answer => ({
  ok: false,
  refusal: { why, next, corner },
});

/** The answer to a write: done, or the fault's cause and remedy. */
export const stored = (outcome: Outcome): Answer =>
  outcome.ok ? DONE : refuse(FAULTS[outcome.fault.code].cause, FAULTS[outcome.fault.code].remedy);

type CommandOf<K extends Command['do']> = Extract<Command, { readonly do: K }>;

/** What each of some commands does. */
export type Handlers<K extends Command['do']> = {
  readonly [D in K]: (bench: BenchWorkings, command: CommandOf<D>) => Answer | Promise<Answer>;
};
