import { solvePositiveDefinite } from '../adjust/solvePositiveDefinite.ts';
import { CORNERS, type Corner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import { studentT } from '../signal/studentT.ts';
import type { Heights } from './heights.ts';
import { ratioTail } from './sightScatter.ts';

/** Two surveys of the same four pads held against each other. */
export interface PatchMoved {
  /** `cannot tell`: nothing shows, but a twist that matters could hide in these surveys. */
  readonly answer: 'same' | 'moved' | 'cannot tell';
  /** Probability of so large a change by chance. */
  readonly tail: number;
  /** How much each pad went up against the mean of all, metre. */
  readonly changes: readonly { readonly pad: Corner; readonly change: Measured }[];
  /** Change of the twist, tracks taken as alike, metre. */
  readonly twist: Measured;
  /**
   * The one pad whose sinking or rising explains a move best; null where nothing moved or no single pad
   * explains it. `others` explain it too, to within chance.
   */
  readonly likeliest: { readonly pad: Corner; readonly change: Measured } | null;
  readonly others: readonly Corner[];
}

/** Chance that an unmoved patch is called moved, or a true cause left out; common practice, no source. */
const LEVEL = 0.05;
/** A change of twist that matters, 0.9 kg on every corner of the example car; no source. */
const MATTERS = 2e-4;

type Form = readonly number[];

/** The pads and the marks that both surveys have, as places in the heights of one of them. */
const common = (heights: Heights, marks: readonly string[]): readonly number[] => [
  0,
  1,
  2,
  3,
  ...marks.map((mark) => 4 + heights.marks.indexOf(mark)),
];

/**
 * Whether the patch has moved between two surveys, with full covariance: all differences of height
 * that do not depend on the datum, as one F test (Hotelling's, with the smaller degrees of freedom). With
 * marks on the ground that both surveys read, a sinking of all four shows too. What is known of the
 * instrument counts as new in each survey. Asphalt sinks under a car: read again with it on the pads.
 */
export const patchMoved = (before: Heights, after: Heights): PatchMoved => {
  const marks = before.marks.filter((mark) => after.marks.includes(mark));
  const [was, is] = [common(before, marks), common(after, marks)];
  const change = is.map(
    (place, i) => (after.values[place] as number) - (before.values[was[i] as number] as number),
  );
  const dof = Math.max(1, Math.min(before.dof, after.dof));
  const part = (heights: Heights, places: readonly number[], a: Form, b: Form): number => {
    let sum = 0;
    for (const [i, p] of places.entries())
      for (const [j, q] of places.entries())
        sum +=
          (a[i] ?? 0) *
          (b[j] ?? 0) *
          ((heights.scattered[p]?.[q] as number) + (heights.known[p]?.[q] as number));
    return sum;
  };
  const both = (a: Form, b: Form): number => part(before, was, a, b) + part(after, is, a, b);
  const value = (form: Form): number =>
    form.reduce((sum, a, i) => sum + a * (change[i] as number), 0);
  const as = (form: Form): Measured =>
    measured(value(form), Math.sqrt(Math.max(0, both(form, form))), dof);

  // They know nothing of where the datum lies.
  const forms: readonly Form[] = [
    [1, -1, 0, 0],
    [0, 0, 1, -1],
    [0.5, 0.5, -0.5, -0.5],
    ...(marks.length > 0 ? [[0.25, 0.25, 0.25, 0.25, ...marks.map(() => -1 / marks.length)]] : []),
  ];
  const d = forms.map(value);
  const covariance = forms.flatMap((a) => forms.map((b) => both(a, b)));
  const against = (rest: readonly number[]): readonly number[] =>
    solvePositiveDefinite(covariance, rest);
  const dot = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((sum, each, i) => sum + each * (b[i] as number), 0);
  const tail = ratioTail(dot(d, against(d)) / forms.length, forms.length, dof);
  const changes = CORNERS.map((pad, k) => ({
    pad,
    change: as(CORNERS.map((_, i) => (i === k ? 0.75 : -0.25))),
  }));
  const twist = as([1, -1, -1, 1]);
  if (tail > LEVEL) {
    const couldBe = Math.abs(twist.value) + studentT(2 * LEVEL, dof) * twist.u;
    const answer = couldBe <= MATTERS ? 'same' : 'cannot tell';
    return { answer, tail, changes, twist, likeliest: null, others: [] };
  }
  // One pad alone: its signature is the column of the forms; least squares in the same metric.
  const fits = CORNERS.map((pad, k) => {
    const signature = forms.map((form) => form[k] as number);
    const solved = against(signature);
    const weight = dot(signature, solved);
    const size = dot(d, solved) / weight;
    const rest = d.map((each, i) => each - size * (signature[i] as number));
    const misfit = dot(rest, against(rest));
    const free = forms.length - 1;
    return {
      pad,
      misfit,
      explains: ratioTail(misfit / free, free, dof) > LEVEL,
      change: measured(size, 1 / Math.sqrt(weight), dof),
    };
  }).toSorted((a, b) => a.misfit - b.misfit);
  const explaining = fits.filter(({ explains }) => explains);
  const [best] = explaining;
  return {
    answer: 'moved',
    tail,
    changes,
    twist,
    likeliest: best ? { pad: best.pad, change: best.change } : null,
    others: explaining.slice(1).map(({ pad }) => pad),
  };
};

/** A turn that must show: less than this the sights may hide. Common practice, no source. */
const SHOWS = 5e-4;

/**
 * Whether pads went the other way than their screws were turned: then the staff was read upside down in
 * both surveys, or the screws turn the other way. `planned` are the heights that a plan promised. One
 * set-up cannot show this in itself. False too where too little was turned to tell.
 */
export const wentOtherWay = (
  before: Heights,
  planned: readonly number[],
  after: Heights,
): boolean => {
  const mean = (of: (k: number) => number): number =>
    CORNERS.reduce((sum, _, k) => sum + of(k) / 4, 0);
  const asked = (k: number): number => (planned[k] as number) - (before.values[k] as number);
  const made = (k: number): number => (after.values[k] as number) - (before.values[k] as number);
  const [askedMean, madeMean] = [mean(asked), mean(made)];
  const size = mean((k) => (asked(k) - askedMean) ** 2);
  const along = mean((k) => (asked(k) - askedMean) * (made(k) - madeMean));
  return Math.sqrt(size) > SHOWS && along < -size / 2;
};
