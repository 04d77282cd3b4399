import { inner, type WhitenedCause } from './fit.ts';

/**
 * Below this angle between whitened signatures two causes are one class, whatever their size: a few per
 * cent of error in the car's data turns a signature by as much. Common practice, no source.
 */
const ALIKE = (4 * Math.PI) / 180;
/** Standard deviations for 95 % on one side. */
const TOLD = 1.645;
/** A cause that moves the items by less than this many standard uncertainties at its most is not seen. */
const SEEN = 2;

/** Standard uncertainties by which a cause moves the items at its largest. */
const atMost = ({ signature, cause }: WhitenedCause): number =>
  Math.sqrt(inner(signature, signature)) * cause.most;

/** Angle between the signatures of two causes, either sign, 0 to π/2. */
export const angleBetween = (a: WhitenedCause, b: WhitenedCause): number => {
  const cosine =
    inner(a.signature, b.signature) /
    Math.sqrt(inner(a.signature, a.signature) * inner(b.signature, b.signature));
  return Math.acos(Math.min(1, Math.abs(cosine)));
};

/**
 * Whether these measurements cannot tell two causes apart: the better fit is the true one with 95 % only
 * from a size D (in standard uncertainties) with D·sin(angle/2) = 1.645, and neither gets so large.
 */
const isAlike = (a: WhitenedCause, b: WhitenedCause): boolean => {
  const angle = angleBetween(a, b);
  return angle < ALIKE || Math.sin(angle / 2) * Math.min(atMost(a), atMost(b)) < TOLD;
};

export interface CauseClasses {
  /** Each holds causes that these measurements cannot tell apart. */
  readonly classes: readonly (readonly WhitenedCause[])[];
  /** Causes that these measurements cannot see at all. */
  readonly unseen: readonly WhitenedCause[];
}

/** Sorts causes into classes: one joins the first class all of whose members it is like. */
export const causeClasses = (causes: readonly WhitenedCause[]): CauseClasses => {
  const unseen = causes.filter((cause) => !(atMost(cause) >= SEEN));
  const classes: WhitenedCause[][] = [];
  for (const cause of causes) {
    if (unseen.includes(cause)) continue;
    const found = classes.find((members) => members.every((member) => isAlike(member, cause)));
    if (found) found.push(cause);
    else classes.push([cause]);
  }
  return { classes, unseen };
};
