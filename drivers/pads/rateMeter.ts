/** Measures a sample rate from running numbers and times. */
export interface RateMeter {
  /** Samples up to this running number (exclusive) have come, the newest at `t`, s. */
  note(next: number, t: number): void;
  /** Hz over the last one to two seconds; null before a second and when nothing came for two. */
  rate(now: number): number | null;
}

/** Makes a rate meter. */
export const createRateMeter = (): RateMeter => {
  let begin: { next: number; t: number } | null = null;
  let middle: { next: number; t: number } | null = null;
  let end = { next: 0, t: 0 };
  return {
    note: (next, t) => {
      end = { next, t };
      // After silence the hole would count as slow sampling: begin anew.
      if (!begin || !middle || t - middle.t > 3) begin = middle = end;
      else if (t - middle.t >= 1) {
        begin = middle;
        middle = end;
      }
    },
    rate: (now) => {
      if (!begin || end.t - begin.t < 1 || now - end.t > 2) return null;
      return (end.next - begin.next) / (end.t - begin.t);
    },
  };
};
