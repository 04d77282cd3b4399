import type {
  PaperCell,
  PaperColumn,
  PaperDocument,
  PaperFact,
  PaperPlan,
  PaperTable,
  PaperTicks,
} from '../paperDocument.ts';

/** A line of a sheet in words: an empty text says nothing, null leaves room to write it by hand. */
export interface SheetLine {
  /** What it is, with its unit: "Ride height LF, mm". */
  readonly item: string;
  readonly target: PaperCell;
  readonly tolerance: PaperCell;
  readonly value: PaperCell;
  readonly change: PaperCell;
  readonly verdict: PaperCell;
}

/** Lines that belong together. */
export interface SheetGroup {
  readonly heading: string;
  readonly lines: readonly SheetLine[];
}

/** All that stands on a set-up sheet or a set-down sheet, in the words of the crew's own units. */
export interface SheetContent {
  /** "Set-up sheet", "Set-down". */
  readonly kind: string;
  readonly title: string;
  readonly stamp: string | null;
  /** Wall-clock label, milliseconds since 1970 UTC. */
  readonly created: number;
  readonly foot: string;
  /** Car, outing, venue, state of the car. */
  readonly facts: readonly PaperFact[];
  readonly plan: Omit<PaperPlan, 'is'>;
  readonly groups: readonly SheetGroup[];
  readonly ticks: { readonly heading: string; readonly items: PaperTicks['items'] };
}

const COLUMNS: readonly (PaperColumn & { readonly of: keyof SheetLine })[] = [
  { of: 'item', head: 'Item', align: 'left' },
  { of: 'target', head: 'Target', align: 'right' },
  { of: 'tolerance', head: '±', align: 'right' },
  { of: 'value', head: 'Value', align: 'right' },
  { of: 'change', head: 'Change', align: 'right' },
  { of: 'verdict', head: 'Verdict', align: 'left' },
];

const SAYS_NOTHING = '';

/** Groups as a table, without the columns in which no line of the sheet says anything. */
const tableOf = (groups: readonly SheetGroup[], all: readonly SheetLine[]): PaperTable => {
  const columns = COLUMNS.filter(({ of }) => all.some((line) => line[of] !== SAYS_NOTHING));
  return {
    is: 'table',
    columns: columns.map(({ head, align }) => ({ head, align })),
    rows: groups.flatMap(({ heading, lines }) => [
      { group: heading },
      ...lines.map((line) => columns.map(({ of }) => line[of])),
    ]),
  };
};

/** Where to part groups so that the longer side is as short as can be, their order kept. */
const parted = (groups: readonly SheetGroup[]): readonly (readonly SheetGroup[])[] => {
  const long = (part: readonly SheetGroup[]): number =>
    part.reduce((sum, { lines }) => sum + 1 + lines.length, 0);
  const longer = (at: number): number =>
    Math.max(long(groups.slice(0, at)), long(groups.slice(at)));
  const at = groups.reduce(
    (best, _, index) => (longer(index + 1) <= longer(best) ? index + 1 : best),
    0,
  );
  return [groups.slice(0, at), groups.slice(at)].filter((part) => part.length > 0);
};

/**
 * A sheet for a clipboard, on one page: facts, the car from above with its corner blocks beside the list
 * to tick, the items in two columns, and lines for a pencil.
 */
export const sheetPaper = (content: SheetContent): PaperDocument => {
  const { facts, plan, groups, ticks, ...head } = content;
  const lines = groups.flatMap((group) => group.lines);
  return {
    ...head,
    pages: 'one',
    blocks: [
      { is: 'facts', columns: 3, facts },
      {
        is: 'beside',
        parts: [
          { share: 3, blocks: [{ is: 'plan', ...plan }] },
          {
            share: 2,
            blocks: [
              { is: 'heading', text: ticks.heading },
              { is: 'ticks', columns: 1, items: ticks.items },
            ],
          },
        ],
      },
      {
        is: 'beside',
        parts: parted(groups).map((part) => ({
          share: 1,
          blocks: [tableOf(part, lines)],
        })),
      },
      { is: 'pencil', label: 'Notes', lines: 3 },
    ],
  };
};
