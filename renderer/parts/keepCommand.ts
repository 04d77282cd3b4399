import type { Command } from '../../core/contract/commands.ts';
import type { ToKeep } from '../../core/bench/keptBook.ts';
import { newId } from '../newId.ts';

/** Keeps a record of a screen's own making. The bench replaces id, time and world. */
export const keepCommand = (record: ToKeep): Command => ({
  do: 'keep',
  record: { ...record, id: newId(), at: 0, practice: false },
});
