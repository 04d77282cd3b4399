/** The four corners of a car, always in this order in data: left front, right front, left rear, right rear. */
export const CORNERS = ['LF', 'RF', 'LR', 'RR'] as const;

export type Corner = (typeof CORNERS)[number];

/** One value for each corner. */
export type PerCorner<T> = Readonly<Record<Corner, T>>;

/** Builds a value for each corner, in order. */
export const perCorner = <T>(make: (corner: Corner, index: number) => T): PerCorner<T> => ({
  LF: make('LF', 0),
  RF: make('RF', 1),
  LR: make('LR', 2),
  RR: make('RR', 3),
});

/** The four values in the order of CORNERS. */
export const inOrder = <T>(values: PerCorner<T>): readonly [T, T, T, T] => [
  values.LF,
  values.RF,
  values.LR,
  values.RR,
];

export const CORNER_LABEL_STYLES = ['LF RF LR RR', 'FL FR RL RR'] as const;
export type CornerLabelStyle = (typeof CORNER_LABEL_STYLES)[number];

/** The short label of a corner in the style the crew is used to; both are common in the trade. */
export const cornerLabel = (corner: Corner, style: CornerLabelStyle): string => {
  if (style === 'LF RF LR RR') return corner;
  return { LF: 'FL', RF: 'FR', LR: 'RL', RR: 'RR' }[corner];
};

/** The corner in words, for answers and screen readers. */
export const CORNER_NAMES: PerCorner<string> = {
  LF: 'left front',
  RF: 'right front',
  LR: 'left rear',
  RR: 'right rear',
};
