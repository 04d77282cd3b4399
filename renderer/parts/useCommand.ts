import { useCallback, useEffect, useRef, useState } from 'react';
import type { Command, Result } from '../../core/contract/commands.ts';
import { useClient } from '../live/useLive.tsx';

/** What stands beside the buttons of a group: that it is being done, was done, or why not. */
export interface CommandNote {
  readonly kind: 'doing' | 'done' | 'refused';
  readonly text: string;
}

export interface CommandWords {
  readonly doing: string;
  /** What to say when done; null says nothing. */
  readonly done: ((result: Result) => string) | null;
}

export interface GiveCommand {
  readonly note: CommandNote | null;
  readonly give: (command: Command, words?: CommandWords) => Promise<Result | null>;
}

/** How long "done" stays; a refusal stays until the next command. */
const DONE_STAYS_MS = 8000;

/** Gives commands and keeps what became of the last one. */
export const useCommand = (): GiveCommand => {
  const client = useClient();
  const [note, setNote] = useState<CommandNote | null>(null);
  const latest = useRef(0);

  useEffect(() => {
    if (note?.kind !== 'done') return undefined;
    const timer = setTimeout(() => setNote(null), DONE_STAYS_MS);
    return () => clearTimeout(timer);
  }, [note]);

  const give = useCallback(
    async (command: Command, words?: CommandWords): Promise<Result | null> => {
      latest.current += 1;
      const mine = latest.current;
      setNote(words ? { kind: 'doing', text: words.doing } : null);
      const outcome = await client.command(command);
      if (mine === latest.current) {
        if (!outcome.ok)
          setNote({
            kind: 'refused',
            text: [outcome.refusal.why, outcome.refusal.next].filter(Boolean).join(' '),
          });
        else setNote(words?.done ? { kind: 'done', text: words.done(outcome.result) } : null);
      }
      return outcome.ok ? outcome.result : null;
    },
    [client],
  );
  return { note, give };
};
