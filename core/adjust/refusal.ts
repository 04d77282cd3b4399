/** Why nothing can be said about what to turn. What was planned before stays as it is. */
const ADJUST_REFUSALS = [
  'no pitch',
  'no motion ratio',
  'no steps',
  'no adjusters',
  'no reading',
  'no height',
  'no target',
  'not physical',
  'out of reach',
  'pad lost',
  'no response',
  'something else changed',
  'no bar',
] as const;

export interface AdjustRefusal {
  readonly ok: false;
  readonly code: (typeof ADJUST_REFUSALS)[number];
  /** In words for people, with what to do. */
  readonly why: string;
}

export const refused = (code: AdjustRefusal['code'], why: string): AdjustRefusal => ({
  ok: false,
  code,
  why,
});
