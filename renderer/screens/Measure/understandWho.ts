import type { Understood } from '../../parts/Field.tsx';

/** Who does something: a role or letters, up to sixty; may be empty. */
export const understandWho = (text: string): Understood<string> => {
  const who = text.trim();
  return who.length > 60
    ? { ok: false, why: 'Up to sixty letters.' }
    : { ok: true, value: who, said: who === '' ? 'nobody named' : who };
};

/** A note of some length; may be empty. */
export const understandNote =
  (most: number) =>
  (text: string): Understood<string> => {
    const note = text.trim();
    return note.length > most
      ? { ok: false, why: `Up to ${most} letters.` }
      : { ok: true, value: note, said: note === '' ? 'no note' : 'noted' };
  };
