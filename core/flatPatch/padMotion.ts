import type { Foot } from './screws.ts';

type Three<T> = readonly [T, T, T];
type Place = Pick<Foot, 'x' | 'y'>;

/** A pad on the three feet that decide how it stands; a fourth one only follows. */
export interface Carried<T extends Place> {
  readonly leaders: Three<T>;
  readonly follower: T | null;
  /** What raising each leader by a metre does at the pad's centre; the three add up to one. */
  readonly centre: Three<number>;
}

/** A triangle of feet smaller than this, m², carries no pad: common practice, no source. */
const LEAST_AREA = 1e-3;
const NEARLY = 1e-6;

/** Shares of three feet in the height at a place: its area coordinates in their triangle. */
const sharesAt = <T extends Place>([a, b, c]: Three<T>, { x, y }: Place): Three<number> | null => {
  const twice = (p: Place, q: Place, r: Place): number =>
    (q.x - p.x) * (r.y - p.y) - (r.x - p.x) * (q.y - p.y);
  const whole = twice(a, b, c);
  if (Math.abs(whole) < 2 * LEAST_AREA) return null;
  const at = { x, y };
  return [twice(at, b, c) / whole, twice(at, c, a) / whole, twice(at, a, b) / whole];
};

/**
 * Chooses the feet that carry a pad. Of four, the one that moves most follows, since it need not be
 * counted, as long as the wheel stands within the other three. Null where no three feet carry it.
 */
export const carry = <T extends Place>(
  feet: readonly T[],
  moves: (foot: T) => number,
): Carried<T> | null => {
  const triples = feet.length === 3 ? [null] : feet;
  const found = triples.flatMap((follower) => {
    const [a, b, c] = feet.filter((foot) => foot !== follower);
    if (!a || !b || !c) return [];
    const leaders: Three<T> = [a, b, c];
    const centre = sharesAt(leaders, { x: 0, y: 0 });
    return centre && Math.min(...centre) > -NEARLY ? [{ leaders, follower, centre }] : [];
  });
  const moved = ({ follower }: Carried<T>): number => (follower ? Math.abs(moves(follower)) : 0);
  return found.toSorted((a, b) => moved(b) - moved(a))[0] ?? null;
};

/** How far a rigid pad rises at a place when its leaders are raised by `lifts`. */
export const liftAt = <T extends Place>(
  { leaders }: Carried<T>,
  lifts: readonly number[],
  place: Place,
): number =>
  (sharesAt(leaders, place) ?? []).reduce((sum, each, i) => sum + each * (lifts[i] ?? 0), 0);
