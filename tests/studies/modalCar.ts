/**
 * A car as three damped modes shared by four pads: the truth of the settling bench, written out as the
 * textbook has it (cosine, exponential or double pole), apart from the estimator's own functions.
 */
export interface ModalCar {
  /** N, LF RF LR RR. */
  readonly settled: readonly number[];
  readonly modes: readonly ModalMode[];
}

export interface ModalMode {
  readonly hertz: number;
  readonly damping: number;
  /** Displacement and speed over ω at time zero, N, on each pad. */
  readonly displaced: readonly number[];
  readonly moving: readonly number[];
}

/** Free response at t to unit displacement and to unit speed over ω, by case. */
export const freeResponse = (
  mode: Pick<ModalMode, 'hertz' | 'damping'>,
  t: number,
): readonly [number, number] => {
  const omega = 2 * Math.PI * mode.hertz;
  const { damping } = mode;
  if (damping === 1)
    return [(1 + omega * t) * Math.exp(-omega * t), omega * t * Math.exp(-omega * t)];
  if (damping < 1) {
    const beta = Math.sqrt(1 - damping * damping);
    const decay = Math.exp(-damping * omega * t);
    const sine = Math.sin(beta * omega * t) / beta;
    return [decay * (Math.cos(beta * omega * t) + damping * sine), decay * sine];
  }
  const root = Math.sqrt(damping * damping - 1);
  const slow = -damping + root;
  const fast = -damping - root;
  const a = Math.exp(slow * omega * t);
  const b = Math.exp(fast * omega * t);
  return [(slow * b - fast * a) / (slow - fast), (a - b) / (slow - fast)];
};

/** Load on a pad t seconds after it was let go, N; before that nothing stands on it. */
export const loadOf = (car: ModalCar, pad: number, t: number): number => {
  if (t < 0) return 0;
  let load = car.settled[pad] as number;
  for (const mode of car.modes) {
    const [displaced, moving] = freeResponse(mode, t);
    load += (mode.displaced[pad] as number) * displaced + (mode.moving[pad] as number) * moving;
  }
  return load;
};

const KILOGRAM = 9.81;
/** The example car of the design, kg. */
const LOADS = [312.411, 307.464, 344.789, 340.336];
const HEAVE = [1, 1, 1, 1];
const PITCH = [1, 1, -1, -1];
const ROLL = [1, -1, 1, -1];

/**
 * The example car let down all at once: its modes at `hertz`, 1.2 and 1.4 times that, damped by about
 * `damping`. Heave takes the whole load, pitch and roll 60 and 50 kg: it never comes down level.
 */
export const droppedCar = (hertz: number, damping: number): ModalCar => {
  const settled = LOADS.map((mass) => mass * KILOGRAM);
  const along = (pattern: readonly number[]): number =>
    pattern.reduce((sum, sign, pad) => sum - (sign * (settled[pad] as number)) / 4, 0);
  const mode = (pattern: readonly number[], factor: number, share: number, extra: number) => ({
    hertz: factor * hertz,
    damping: share * damping,
    displaced: pattern.map((sign) => sign * (along(pattern) + extra * KILOGRAM)),
    moving: pattern.map(() => 0),
  });
  return {
    settled,
    modes: [mode(HEAVE, 1, 1, 0), mode(PITCH, 1.2, 1.05, 60), mode(ROLL, 1.4, 0.95, 50)],
  };
};
