import type { MarginRow } from '../scrutineering/marginBoard.ts';
import { fixed, HARD_SPACE } from '../format/number.ts';
import { listed, type Answer } from './answer.ts';

/** A probability in percent: rounded down, so that nothing is certain that is not, finer near the end. */
export const chanceShown = (probability: number): string => {
  const percent = 100 * probability;
  if (percent >= 99.99) return `more than 99.99${HARD_SPACE}%`;
  if (percent < 0.1) return `less than 0.1${HARD_SPACE}%`;
  const decimals = percent > 99.9 ? 2 : percent > 95 || percent < 10 ? 1 : 0;
  const scale = 10 ** decimals;
  return `${fixed(Math.floor(percent * scale + 1e-9) / scale, decimals)}${HARD_SPACE}%`;
};

/** The chance of a row; with limits of error taken at their worst it is at least that. */
export const chanceOf = ({
  probability,
  isAtLeast,
}: Pick<MarginRow, 'probability' | 'isAtLeast'>): string => {
  if (probability === null) return '—';
  const text = chanceShown(probability);
  if (!isAtLeast || text.startsWith('more')) return text;
  return `at least ${text.startsWith('less') ? `0${HARD_SPACE}%` : text}`;
};

/** More names than these are counted: the board has them. */
const MOST_NAMES = 3;

const named = (rows: readonly MarginRow[]): string => listed(rows.map(({ item }) => item.name));

/**
 * Will it pass? From the margin board, worst first: what will fail, what is tight, what is not known, and how
 * sure the total is.
 */
export const scrutineeringAnswer = (board: readonly MarginRow[]): Answer => {
  if (board.length === 0)
    return {
      about: 'nothing limited',
      text: 'No item has a limit yet. Add what the rules limit.',
      tone: 'wait',
    };
  const of = (verdict: MarginRow['verdict']): readonly MarginRow[] =>
    board.filter((row) => row.verdict === verdict);
  const [failing, tight, unknown] = [of('fails'), of('tight'), of('unknown')];
  const known = board.filter(({ probability }) => probability !== null);
  const total = known.find(({ item }) => item.kind === 'total');
  const totalText = total ? `${total.item.name} passes with ${chanceOf(total)}.` : '';
  const missing =
    unknown.length > 0
      ? `Not known: ${unknown.length > MOST_NAMES ? `${unknown.length} items, see the board` : named(unknown)}${unknown.length === 1 && unknown[0]?.why ? `. ${unknown[0].why}` : '.'}`
      : '';
  const say = (about: string, tone: Answer['tone'], ...parts: readonly string[]): Answer => ({
    about: `${about} ${board.map(({ item, verdict }) => `${item.id}:${verdict}`).join()}`,
    text: parts.filter(Boolean).join(' '),
    tone,
  });

  if (failing.length > 0) {
    const [worst] = failing;
    const only = failing.length === 1 && worst ? `, passes with ${chanceOf(worst)}` : '';
    return say(
      'fails',
      'alarm',
      `${named(failing)} will probably fail${only}.`,
      total && total.verdict !== 'fails' ? totalText : '',
      missing,
    );
  }
  if (known.length === 0) return say('unknown', 'wait', missing);
  const [worst] = known;
  const lessThanWished = (row: MarginRow): string =>
    `${row.item.name} passes with ${chanceOf(row)}, less than wished.`;
  if (tight.length > 0) {
    const others = tight.filter((row) => row !== total);
    return say(
      'tight',
      'wait',
      total?.verdict === 'tight' ? lessThanWished(total) : totalText,
      others.length > 1
        ? `Less sure than wished: ${named(others)}.`
        : others.map(lessThanWished).join(''),
      missing,
    );
  }
  const wide = `All ${known.length} items pass as surely as wished.`;
  return say(
    'passes',
    unknown.length > 0 ? 'wait' : 'calm',
    total ? totalText : wide,
    worst && worst !== total ? `${worst.item.name} is the tight one.` : '',
    missing,
  );
};
