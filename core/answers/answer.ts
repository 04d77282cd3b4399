/** calm: an answer. wait: something has to be done or to pass first. alarm: something is wrong. */
export const TONES = ['calm', 'wait', 'alarm'] as const;

/**
 * The answer to a screen's question, in words. `about` names the case: while it stays the same a
 * screen reader need not hear the text again, however its digits move.
 */
export interface Answer {
  readonly about: string;
  readonly text: string;
  readonly tone: (typeof TONES)[number];
}

/** What a tone means where there is room for a word only. */
export const TONE_WORDS: Readonly<Record<Answer['tone'], string>> = {
  calm: 'good',
  wait: 'not yet',
  alarm: 'wrong',
};

/** Names in a row as people say them: "LF", "LF and RF", "LF, RF and LR". */
export const listed = (names: readonly string[]): string => {
  if (names.length < 2) return names.join('');
  return `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;
};

/** Before the kept records were read. */
export const READING: Answer = {
  about: 'reading',
  text: 'Reading the records.',
  tone: 'wait',
};
