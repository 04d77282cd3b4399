/** A line of text: its size in points, weight, and how dark, from 0 (black) to 1 (white). */
export interface Type {
  readonly size: number;
  readonly strong: boolean;
  readonly grey: number;
}

/** How a path is drawn: greys from 0 (black) to 1 (white), widths in points. */
export interface Ink {
  readonly fill?: number;
  readonly stroke?: { readonly grey: number; readonly width: number; readonly dash?: number };
}

/** What can be measured before anything is drawn. */
export interface Ruler {
  widthOf(text: string, type: Type): number;
}

/** What draws on a page: points, from its top left corner, y down. */
export interface Pen extends Ruler {
  /** One line, from x on, standing on y; turned counter-clockwise about that point by degrees. */
  text(
    text: string,
    at: { readonly x: number; readonly y: number },
    type: Type,
    turn?: number,
  ): void;
  /** A path in the words of SVG. */
  path(d: string, ink: Ink): void;
}
