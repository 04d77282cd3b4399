import type { PrintForm, PrintWhat } from '../../core/contract/print.ts';
import { savePrinted } from '../saveFile.ts';
import { useCommand, type CommandNote } from './useCommand.ts';

export interface UsePrint {
  readonly note: CommandNote | null;
  readonly print: (asked: { readonly what: PrintWhat; readonly form: PrintForm }) => Promise<void>;
}

/** Lets the bench make a file and hands it to the person. */
export const usePrint = (): UsePrint => {
  const { note, give } = useCommand();
  return {
    note,
    print: async ({ what, form }) => {
      const result = await give(
        { do: 'print', what, form },
        {
          doing: 'Making the file.',
          done: (done) => (done.is === 'printed' ? `${done.name} is saved.` : 'Saved.'),
        },
      );
      if (result?.is === 'printed') savePrinted(result);
    },
  };
};
