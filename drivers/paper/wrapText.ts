/** As many characters of a word as fit, at least one. */
const fitting = (word: string, width: number, measure: (text: string) => number): string => {
  const characters = Array.from(word);
  let count = characters.length;
  while (count > 1 && measure(characters.slice(0, count).join('')) > width) count -= 1;
  return characters.slice(0, count).join('');
};

/**
 * Breaks a text into lines no wider than `width`: at spaces and line ends, not at hard spaces, and
 * within a word only where it is wider than a whole line.
 */
export const wrapText = (
  text: string,
  width: number,
  measure: (text: string) => number,
): readonly string[] =>
  text.split('\n').flatMap((paragraph) => {
    const lines: string[] = [];
    let line = '';
    for (const word of paragraph.split(' ').filter((each) => each !== '')) {
      const longer = line === '' ? word : `${line} ${word}`;
      if (measure(longer) <= width) {
        line = longer;
        continue;
      }
      if (line !== '') lines.push(line);
      line = word;
      while (measure(line) > width && Array.from(line).length > 1) {
        const part = fitting(line, width, measure);
        lines.push(part);
        line = line.slice(part.length);
      }
    }
    return [...lines, line];
  });
