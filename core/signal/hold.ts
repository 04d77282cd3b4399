/**
 * Two states with hysteresis and a hold: in when `failing` was at most 1 so many times in a row, out
 * when it was above `leave` so many times in a row or above `leaveAtOnce` once. Between 1 and `leave`
 * nothing changes, so a reading at the limit does not flicker.
 */
export interface Hold {
  readonly inside: boolean;
  /** Takes the next verdict: 0 is perfect, 1 the limit, Infinity hopeless. */
  next(failing: number): void;
  /** Outside again. */
  restart(): void;
}

/** Makes a hold that begins outside. */
export const createHold = (options: {
  readonly hold: number;
  readonly leave: number;
  readonly leaveAtOnce: number;
}): Hold => {
  const { hold, leave, leaveAtOnce } = options;
  let inside = false;
  let against = 0;
  return {
    get inside() {
      return inside;
    },
    next: (failing) => {
      const contrary = inside ? failing > leave : failing <= 1;
      against = contrary ? against + 1 : 0;
      if (against >= hold || (inside && failing > leaveAtOnce)) {
        inside = !inside;
        against = 0;
      }
    },
    restart: () => {
      inside = false;
      against = 0;
    },
  };
};
