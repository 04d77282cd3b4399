import type { Understood } from './Field.tsx';

/** A name of 1 to 80 letters. */
export const understandName = (text: string): Understood<string> => {
  const name = text.trim();
  if (name === '' || name.length > 80) return { ok: false, why: 'One to eighty letters.' };
  return { ok: true, value: name, said: name };
};
