/**
 * The one animation-frame loop of the window: everything that draws by itself hangs on it. It runs
 * only while something does.
 */
export interface FrameLoop {
  /** Calls back before each paint, with the time in seconds, until its answer is called. */
  add(draw: (now: number) => void): () => void;
}

export interface FrameSource {
  request(run: () => void): number;
  cancel(handle: number): void;
  /** Seconds, monotonic. */
  now(): number;
}

/** Makes a loop on the browser's frames. */
export const createFrameLoop = (source: FrameSource): FrameLoop => {
  const drawers = new Set<(now: number) => void>();
  let handle: number | null = null;
  const run = (): void => {
    handle = source.request(run);
    const now = source.now();
    for (const draw of drawers) draw(now);
  };
  return {
    add: (draw) => {
      drawers.add(draw);
      handle ??= source.request(run);
      return () => {
        drawers.delete(draw);
        if (drawers.size > 0 || handle === null) return;
        source.cancel(handle);
        handle = null;
      };
    },
  };
};

/** The browser's own frames and clock. */
export const windowFrames: FrameSource = {
  request: (run) => window.requestAnimationFrame(run),
  cancel: (handle) => window.cancelAnimationFrame(handle),
  now: () => performance.now() / 1000,
};
