/** Where the window was, kept as text between runs, and where it may be now: pure, in pixels. */

export interface Rectangle {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface WindowState extends Rectangle {
  readonly maximized: boolean;
}

/** So much of the title bar must lie on a screen that it can be taken hold of; no source. */
const GRIP = { width: 120, height: 24 };

const overlap = (from: number, length: number, otherFrom: number, otherLength: number): number =>
  Math.min(from + length, otherFrom + otherLength) - Math.max(from, otherFrom);

const canBeHeld = (window: Rectangle, screen: Rectangle): boolean =>
  overlap(window.x, window.width, screen.x, screen.width) >= GRIP.width &&
  overlap(window.y, GRIP.height, screen.y, screen.height) >= GRIP.height &&
  window.width <= screen.width &&
  window.height <= screen.height;

const isWhole = (value: unknown): value is number =>
  typeof value === 'number' && Number.isSafeInteger(value);

/** Reads a kept state; null where the text is none, which is no fault: it is a convenience. */
export const readWindowState = (text: string): WindowState | null => {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return null;
  }
  if (typeof value !== 'object' || value === null) return null;
  const { x, y, width, height, maximized } = value as Record<string, unknown>;
  return isWhole(x) &&
    isWhole(y) &&
    isWhole(width) &&
    isWhole(height) &&
    width > 0 &&
    height > 0 &&
    typeof maximized === 'boolean'
    ? { x, y, width, height, maximized }
    : null;
};

/**
 * The bounds to open with; null leaves them to the window's own options. A state from a screen that
 * is no longer there, or is smaller now, is not used: a window nobody can reach is worse than a moved one.
 */
export const boundsToOpen = (
  state: WindowState | null,
  screens: readonly Rectangle[],
): Rectangle | null => {
  if (!state || !screens.some((screen) => canBeHeld(state, screen))) return null;
  const { x, y, width, height } = state;
  return { x, y, width, height };
};
