import { isNotTheCar } from '../compare/causes/cause.ts';
import type { Causes, RankedClass, SizedCause } from '../compare/causes/causes.ts';
import { causeWords, type Wording } from '../compare/causes/causeWords.ts';
import { COMMON_ALONG_WARP } from '../compare/commonLowering.ts';
import type { Comparison, JudgedItem } from '../compare/compareItems.ts';
import { capital } from '../format/capital.ts';
import { fixed } from '../format/number.ts';
import { listed, type Answer } from './answer.ts';

/** What the answer is made of. */
export interface Compared {
  readonly comparison: Comparison;
  /** Null where causes were not looked for: no corner weights, or nothing known of the car. */
  readonly causes: Causes | null;
  /** Done on purpose, its effect not known: it is still in the changes. Sentences without their stop. */
  readonly notTakenOut: readonly string[];
  /** Why causes were not looked for, with what to do; null where they were. */
  readonly lacking: string | null;
  /** Corner weights were judged by common limits and not by what this car does. */
  readonly isCommonScatter: boolean;
  readonly wording: Wording;
  /** An item's name as people say it. */
  readonly itemName: (id: string) => string;
}

export interface CompareAnswer extends Answer {
  /** Why, one sentence each, what matters first. */
  readonly why: readonly string[];
}

/** More classes or items than this are counted and not named. */
const NAMED = 3;

const someOf = (names: readonly string[], join: (names: readonly string[]) => string): string =>
  names.length <= NAMED
    ? join(names)
    : join([...names.slice(0, NAMED - 1), `${names.length - NAMED + 1} more`]);

const either = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} or ${names.at(-1) ?? ''}`;

const lower = (text: string): string => text.replace(/^[A-Z](?=[a-z])/u, (c) => c.toLowerCase());
const comma = (...parts: readonly string[]): string =>
  parts.filter((part) => part !== '').join(', ');

interface ClassWords {
  /** What it would be in the car, with its size; null where no member is of the car. */
  readonly car: { readonly text: string; readonly confirm: string } | null;
  /** What it would be of pads, patch and set-up wheels. */
  readonly ours: { readonly text: string; readonly confirm: string } | null;
}

const classWords = (members: readonly SizedCause[], wording: Wording): ClassWords => {
  const group = (of: readonly SizedCause[]): ClassWords['car'] => {
    const [first] = of.map(({ cause, size }) => causeWords(cause.what, size, wording));
    if (!first) return null;
    const names = of.map(({ cause, size }, index) => {
      const { name } = causeWords(cause.what, size, wording);
      return index === 0 ? name : lower(name);
    });
    return { text: comma(someOf(names, either), first.size), confirm: first.confirm };
  };
  return {
    car: group(members.filter(({ cause }) => !isNotTheCar(cause.what))),
    ours: group(members.filter(({ cause }) => isNotTheCar(cause.what))),
  };
};

/** The first of a list of things to do is enough for one line. */
const firstStep = (confirm: string): string => confirm.split(', then ')[0] ?? confirm;

const oneClass = (found: RankedClass, wording: Wording): string => {
  const { car, ours } = classWords(found.members, wording);
  if (!car && ours)
    return `Pads and patch before the car: ${lower(ours.text)}. ${capital(ours.confirm)}.`;
  if (!car) return '';
  const end = `${car.text}: ${firstStep(car.confirm)}.`;
  return ours
    ? `First rule out the ${lower(ours.text)}: ${firstStep(ours.confirm)}. Else ${lower(end)}`
    : end;
};

const several = (tied: readonly RankedClass[], wording: Wording): string => {
  const words = tied.map(({ members }) => classWords(members, wording));
  // What is not the car is looked at first: it is quick, and it spoils every other reading.
  const ours = words.flatMap((each) => each.ours ?? []);
  const cars = words.flatMap((each) => each.car ?? []);
  const all = [...ours, ...cars];
  const first = all[0]?.confirm ?? '';
  const names = all.map(({ text }, index) => (index === 0 ? text : lower(text)));
  return `${someOf(names, (each) => each.join('; or '))}: these measurements cannot tell. First ${firstStep(first)}.`;
};

/** One of two causes with all that would look like it, the car's own first. */
const halfOfPair = (
  causes: Causes,
  { cause, size }: SizedCause,
  about: { readonly place: number; readonly wording: Wording },
): { readonly name: string; readonly size: string; readonly confirm: string } => {
  const { members } = causes.classes[about.place] ?? { members: [] };
  const own = members.toSorted(
    (a, b) => Number(isNotTheCar(a.cause.what)) - Number(isNotTheCar(b.cause.what)),
  );
  const names = own.map((each) =>
    lower(causeWords(each.cause.what, each.size, about.wording).name),
  );
  const words = causeWords(cause.what, size, about.wording);
  return { ...words, name: someOf(names, either) };
};

const pairText = (causes: Causes, wording: Wording): string => {
  const halves = ({ causes: [one, other], of }: Causes['pairs'][number]) =>
    [
      halfOfPair(causes, one, { place: of[0], wording }),
      halfOfPair(causes, other, { place: of[1], wording }),
    ] as const;
  const [pair] = causes.pairs;
  if (causes.answer === 'two causes' && pair) {
    const [one, other] = halves(pair);
    const steps = new Set([firstStep(one.confirm), firstStep(other.confirm)]);
    return `Two causes: ${comma(one.name, one.size)}; and ${comma(other.name, other.size)}. ${capital(listed([...steps]))}.`;
  }
  const pairs = causes.pairs.map((each) => {
    const [one, other] = halves(each);
    return `${one.name} with ${other.name}`;
  });
  return pairs.length === 0
    ? 'No single cause explains it, nor do two. Measure again what moved most.'
    : `No single cause explains it. Two would: ${someOf(pairs, (each) => each.join('; or '))}.`;
};

/** Names of items; more than a few are counted. */
export const itemsText = (items: readonly JudgedItem[], name: Compared['itemName']): string =>
  someOf(
    items.map(({ id }) => name(id)),
    listed,
  );

/** Whether corner weights are among what was compared. */
export const isWeighed = ({ items }: Comparison): boolean =>
  items.some(({ id }) => id.startsWith('weight.'));

const whyOf = ({
  comparison,
  causes,
  notTakenOut,
  isCommonScatter,
  wording,
  itemName,
}: Compared): readonly string[] => {
  const { items, notCompared, takenOut } = comparison;
  const of = (verdict: JudgedItem['verdict']) => items.filter((item) => item.verdict === verdict);
  const tail = (p: number): string => (p < 0.001 ? 'less than 0.1 %' : `${fixed(p * 100, 1)} %`);
  const told = (['moved', 'cannot tell', 'same'] as const).flatMap((verdict) => {
    const judged = of(verdict);
    return judged.length === 0
      ? []
      : [`${capital(verdict)}: ${judged.map(({ id }) => itemName(id)).join(', ')}.`];
  });
  const ranked = (causes?.answer === 'single cause' ? causes.classes : [])
    .filter(({ isTied }) => isTied)
    .flatMap(({ members, share }) =>
      members.map(({ cause, size }) => {
        const words = causeWords(cause.what, size, wording);
        const sized =
          words.size === '' ? '' : `${words.size}, ±${words.u} (one standard uncertainty)`;
        return `${comma(words.name, sized)}: explains ${fixed(share * 100, 0)} %. To confirm: ${words.confirm}.`;
      }),
    );
  return [
    ...ranked,
    ...told,
    ...(causes
      ? [
          `By chance alone so large a change comes in ${tail(causes.nothingTail)} of unchanged cars.`,
        ]
      : []),
    ...(causes && causes.answer !== 'nothing moved' && causes.singleTail !== null
      ? [
          `Were the best single cause all, so large a rest would come in ${tail(causes.singleTail)}.`,
        ]
      : []),
    ...(isCommonScatter && isWeighed(comparison)
      ? [
          `Corner weights are judged by common limits of lowering (±${COMMON_ALONG_WARP} kg along the diagonals, common practice) and not by your own: make the study under Balance, Outing, and smaller changes can be told.`,
        ]
      : []),
    ...(takenOut.length > 0 ? [`Taken out before judging: ${takenOut.join('; ')}.`] : []),
    ...notTakenOut.map((said) => `Done on purpose and not taken out: ${said}.`),
    ...notCompared.map(({ id, why }) => `${itemName(id)} is not compared. ${why}`),
  ];
};

const short = (compared: Compared): Answer => {
  const { comparison, causes, lacking, wording, itemName } = compared;
  const { items } = comparison;
  if (items.length === 0)
    return {
      about: 'nothing compared',
      text: 'Nothing can be compared yet: no item is in both records with a known repeatability.',
      tone: 'wait',
    };
  const moved = items.filter(({ verdict }) => verdict === 'moved');
  const open = items.filter(({ verdict }) => verdict === 'cannot tell');
  if (causes && causes.answer !== 'nothing moved') {
    const tied = causes.classes.filter(({ isTied }) => isTied);
    const [best] = tied;
    const explained =
      causes.answer !== 'single cause' || !best
        ? pairText(causes, wording)
        : tied.length === 1
          ? oneClass(best, wording)
          : several(tied, wording);
    const start = moved.length > 0 ? 'Moved.' : 'No item is past its limit, but something changed.';
    return {
      about: `${causes.answer} ${tied.length} ${moved.length > 0 ? 'moved' : 'within'}`,
      text: `${start} ${explained}`,
      tone: moved.length > 0 ? 'alarm' : 'wait',
    };
  }
  if (moved.length > 0)
    return {
      about: 'items moved',
      text: `Moved: ${itemsText(moved, itemName)}. ${causes ? 'No pattern of a cause stands out.' : `No cause can be named. ${lacking ?? ''}`}`,
      tone: 'alarm',
    };
  if (open.length > 0) {
    const settled = open.filter(({ readings }) => readings !== null);
    const most = Math.max(...settled.map(({ readings }) => readings ?? 0));
    const how =
      settled.length === 0
        ? 'More readings would not tell: the earlier record or the patch limits it.'
        : `${most} readings of the car now would tell${settled.length < open.length ? ' some of them' : ''}.`;
    const start = causes
      ? 'Nothing moved that the whole pattern would show. Alone cannot be told'
      : 'Cannot tell yet';
    return {
      about: 'cannot tell',
      text: `${start}: ${itemsText(open, itemName)}. ${how}`,
      tone: 'wait',
    };
  }
  return {
    about: 'same',
    text: `Same. ${items.length === 1 ? 'The one item is' : `All ${items.length} items are`} within ${items.length === 1 ? 'its limit' : 'their limits'}.`,
    tone: 'calm',
  };
};

/** Said in the line itself: a reader of one line must not take common limits for this car's own. */
export const BY_COMMON_LIMITS = ' Corner weights by common limits, not by a study of this car.';

/** Has it changed? One line, and why. */
export const compareAnswer = (compared: Compared): CompareAnswer => {
  const answer = short(compared);
  const isCommon = compared.isCommonScatter && isWeighed(compared.comparison);
  return {
    ...answer,
    text: `${answer.text}${isCommon ? BY_COMMON_LIMITS : ''}`,
    why: whyOf(compared),
  };
};
