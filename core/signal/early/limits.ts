/** Limits of the early estimator. Times in seconds, forces in newton; own choices, no source. */
export const LIMITS = {
  /** The longest window that is fitted: a car that rocks at 2 Hz has long come to rest in it. */
  window: 3,
  /** The shortest that is tried when a longer one does not fit. */
  shortest: 0.2,
  /** Parts of the window that are tried, one after another, when the whole does not fit. */
  shorter: [0.6, 0.35],
  /** Looks in a row that a window may fail before it is given up, and what is given up at once. */
  patience: 2,
  hopeless: 4,
  /** Trouble within so long of the last puts what fits afterwards on trial. */
  calm: 1.5,
  /** For how long: by how many fits did not last, each within `memory` of the one before. */
  trials: [1.3, 1.3, 4],
  memory: 3,
  /** Fewest samples of a pad, and least degrees of freedom left over the four. */
  fewest: 6,
  leastDof: 12,
  /** A pad whose newest sample is older than the newest of all by more is not heard. */
  gap: 0.3,
  /** Most steps of a fit, and most work of a look: samples of the four pads times steps. */
  steps: 10,
  work: 8000,
  /** Noise below which no pad is believed, and the guess before a pad was ever still. */
  leastNoise: 0.005,
  guessedNoise: 0.3,
  /** Largest standard uncertainty that is said at all. */
  mostUncertain: 20,
  /** Largest at which new samples are watched for a new event. */
  surprise: 1,
} as const;
