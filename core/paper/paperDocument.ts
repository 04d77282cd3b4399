import type { PerCorner } from '../corners.ts';

/**
 * A paper as data: what stands on it and in which order, in words and numbers as people read them. It
 * knows no page size, no face and no place: `drivers/paper` lays it out. Records become papers here in
 * `core/paper`, so that what is printed can be tested without printing.
 */
export interface PaperDocument {
  /** What it is, above the title in small letters: "Calibration record". */
  readonly kind: string;
  readonly title: string;
  /** One word across every page, such as "practice"; null for none. */
  readonly stamp: string | null;
  /** Wall-clock label, milliseconds since 1970 UTC: the date of the file, so that bytes can be made again. */
  readonly created: number;
  /** At the foot of every page, beside the page's number. */
  readonly foot: string;
  /** One: set smaller until it fits on a page. What then does not fit goes on; nothing is cut off. */
  readonly pages: 'one' | 'as needed';
  readonly blocks: readonly PaperBlock[];
}

export type PaperBlock =
  | PaperHeading
  | PaperText
  | PaperFacts
  | PaperTable
  | PaperTicks
  | PaperPencil
  | PaperPlan
  | PaperPlot
  | PaperBeside;

/** A sign before a word, told apart without colour: a tick, a filled triangle, an empty ring. */
export type PaperMark = 'good' | 'bad' | 'open';

export interface MarkedText {
  readonly text: string;
  readonly mark: PaperMark;
}

/** Words, words with a mark, or (null) room to write by hand. */
export type PaperCell = string | MarkedText | null;

export interface PaperHeading {
  readonly is: 'heading';
  readonly text: string;
}

export interface PaperText {
  readonly is: 'text';
  readonly text: string | MarkedText;
  readonly tone: 'plain' | 'strong' | 'quiet';
}

export interface PaperFact {
  readonly name: string;
  readonly value: PaperCell;
}

/** Names with their values, read along the rows. */
export interface PaperFacts {
  readonly is: 'facts';
  readonly columns: 1 | 2 | 3;
  readonly facts: readonly PaperFact[];
}

export interface PaperColumn {
  readonly head: string;
  /** Numbers stand right and are never broken; words stand left and may be. */
  readonly align: 'left' | 'right';
}

/** A cell for every column, or the name of the rows that follow, across them all. */
export type PaperRow = readonly PaperCell[] | { readonly group: string };

export interface PaperTable {
  readonly is: 'table';
  readonly columns: readonly PaperColumn[];
  readonly rows: readonly PaperRow[];
}

/** A list to tick: boxes, empty or ticked. */
export interface PaperTicks {
  readonly is: 'ticks';
  readonly columns: 1 | 2 | 3;
  readonly items: readonly { readonly text: string; readonly ticked: boolean }[];
}

/** Empty lines to write on. */
export interface PaperPencil {
  readonly is: 'pencil';
  readonly label: string;
  readonly lines: number;
}

/** The car from above, front up, to scale, with a block of words at each wheel. Metres. */
export interface PaperPlan {
  readonly is: 'plan';
  readonly wheelbase: number;
  readonly trackFront: number;
  readonly trackRear: number;
  readonly corners: PerCorner<{ readonly label: string; readonly lines: readonly PaperCell[] }>;
  /** Centre of gravity behind the front axle and left of the centre line; null where it is not known. */
  readonly centre: { readonly behindFront: number; readonly left: number } | null;
  /** Words under the car. */
  readonly below: string;
}

export type PaperPoint = readonly [across: number, up: number];

export interface PaperAxis {
  readonly label: string;
  readonly from: number;
  readonly to: number;
  readonly ticks: readonly { readonly at: number; readonly text: string }[];
}

/** Lines or points of one name. `up` and `down` are triangles that point there. */
export interface PaperSeries {
  readonly name: string;
  readonly drawn: 'line' | 'dashed' | 'up' | 'down';
  readonly paths: readonly (readonly PaperPoint[])[];
}

export interface PaperPlot {
  readonly is: 'plot';
  readonly title: string;
  readonly across: PaperAxis;
  readonly up: PaperAxis;
  readonly series: readonly PaperSeries[];
}

/** Parts side by side, each with its share of the width; they are kept on one page. */
export interface PaperBeside {
  readonly is: 'beside';
  readonly parts: readonly { readonly share: number; readonly blocks: readonly PaperBlock[] }[];
}
