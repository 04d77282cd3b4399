import { cornerLabel, CORNERS, type Corner } from '../corners.ts';
import type { BenchState, Frame, PadShown } from '../contract/events.ts';
import { FAULTS } from '../faults.ts';
import { ageShown } from '../format/quantity.ts';
import { listed, type Answer } from './answer.ts';
import { cornersWhere, type Seen } from './cornerCheck.ts';
import { sourceAnswer } from './sourceAnswer.ts';

const COUNTED = ['None', 'One', 'Two', 'Three', 'Four'] as const;

/** The pad of a corner as the bench lists it; null where none is assigned or none was heard. */
export const padOf = (state: BenchState, corner: Corner): PadShown | null => {
  const serial = state.assigned[corner];
  if (serial === null) return null;
  return state.pads.find((pad) => pad.serial === serial) ?? null;
};

/** Faults that say something of the number itself, worst first; the others only of the link. */
const GRAVE = ['pad-overload', 'pad-saturated', 'pad-stuck', 'pad-restarted'] as const;

const graveFault = (state: BenchState, labelled: (corner: Corner) => string): Answer | null => {
  for (const code of GRAVE)
    for (const corner of CORNERS)
      if (padOf(state, corner)?.faults.some((fault) => fault.code === code)) {
        const { cause, remedy } = FAULTS[code];
        return {
          about: `${code} ${corner}`,
          text: `${labelled(corner)}: ${cause} ${remedy}`,
          tone: 'alarm',
        };
      }
  return null;
};

/** A span neither made nor checked for so long is asked for, s; common practice, no source. */
const SPAN_HOLDS = 45 * 86_400;

/** Since a span was made or checked, s; null without a calibration. */
const spanAge = ({ calibration, check }: PadShown, wallAt: number): number | null =>
  calibration ? (wallAt - Math.max(calibration.madeAt, check?.at ?? 0)) / 1000 : null;

/** That a span is to be checked, in words; null while it holds or where there is none. */
export const spanDue = (pad: PadShown, name: string, wallAt: number): string | null => {
  const age = spanAge(pad, wallAt);
  return age !== null && age > SPAN_HOLDS
    ? `${name} was last calibrated or checked ${ageShown(age)} ago: check it with a known mass.`
    : null;
};

/** Whether the spans of four calibrated pads can still be believed, the worst first. */
const span = (state: BenchState, labelled: (corner: Corner) => string): Answer => {
  const pads = CORNERS.flatMap((corner) => {
    const pad = padOf(state, corner);
    return pad?.calibration ? [{ ...pad, name: labelled(corner), span: pad.calibration }] : [];
  });
  const marked = pads.filter((pad) => pad.span.inSpiteOf !== null).map(({ name }) => name);
  const moved = pads.filter(({ check }) => check?.state === 'moved').map(({ name }) => name);
  if (moved.length > 0)
    return {
      about: `moved ${moved.join()}`,
      text: `Four live. The span of ${listed(moved)} moved against a known mass: calibrate it again.`,
      tone: 'alarm',
    };
  if (marked.length > 0)
    return {
      about: `marked ${marked.join()}`,
      text: `Four live. ${listed(marked)} ${marked.length === 1 ? 'is' : 'are'} used in spite of what was found at ${marked.length === 1 ? 'its' : 'their'} calibration.`,
      tone: 'alarm',
    };
  const ages = pads.map((pad) => ({ pad, age: spanAge(pad, state.wallAt) ?? 0 }));
  const oldest = ages.reduce<(typeof ages)[number] | null>(
    (a, b) => (a === null || b.age > a.age ? b : a),
    null,
  );
  const due = oldest && spanDue(oldest.pad, oldest.pad.name, state.wallAt);
  return oldest && due !== null
    ? { about: `old ${oldest.pad.name}`, text: `Four live. ${due}`, tone: 'wait' }
    : { about: 'good', text: 'Yes. Four live, zeroed and calibrated.', tone: 'calm' };
};

const judged = (state: BenchState, frame: Frame | null): Answer => {
  const labelled = (corner: Corner): string => cornerLabel(corner, state.settings.cornerLabels);
  const named = (corners: readonly Corner[]): string => listed(corners.map(labelled));
  const isLive = (corner: Corner): boolean =>
    padOf(state, corner)?.phase === 'live' && frame?.corners[corner].status === 'live';
  const live = cornersWhere(isLive);

  if (state.askingForPress !== null)
    return {
      about: `press ${state.askingForPress}`,
      text: `Stand on or press the pad that belongs at ${labelled(state.askingForPress)}.`,
      tone: 'wait',
    };
  if (state.pads.length === 0)
    return {
      about: 'looking',
      text: 'No pad heard yet. Switch the pads on and bring them near; looking goes on.',
      tone: 'wait',
    };
  const without = cornersWhere((corner) => state.assigned[corner] === null);
  if (without.length > 0)
    return {
      about: `no pad ${without.join()} ${state.pads.length}`,
      text: `${state.pads.length === 1 ? 'One pad' : `${state.pads.length} pads`} found. ${without.length === 4 ? 'No corner' : named(without)} ${without.length === 4 || without.length === 1 ? 'has' : 'have'} ${without.length === 4 ? 'a' : 'no'} pad yet: choose, blink or press.`,
      tone: 'wait',
    };
  const grave = graveFault(state, labelled);
  if (grave) return grave;
  if (live.length < 4) {
    const away = cornersWhere((corner) => !isLive(corner));
    return {
      about: `away ${away.join()}`,
      text: `Not yet. ${COUNTED[live.length] ?? ''} live; ${named(away)} ${away.length === 1 ? 'is' : 'are'} being looked for.`,
      tone: live.length === 0 ? 'wait' : 'alarm',
    };
  }
  const low = cornersWhere((corner) =>
    Boolean(padOf(state, corner)?.faults.some(({ code }) => code === 'pad-low-battery')),
  );
  if (low.length > 0)
    return {
      about: `battery ${low.join()}`,
      text: `Four live. Battery low at ${named(low)}: charge or change before the next set-down.`,
      tone: 'alarm',
    };
  const unzeroed = cornersWhere((corner) => state.zeros[corner] === null);
  if (unzeroed.length > 0)
    return {
      about: `no zero ${unzeroed.join()}`,
      text: `Four live. No zero yet${unzeroed.length === 4 ? '' : ` on ${named(unzeroed)}`}: with the car raised, take it under Balance.`,
      tone: 'wait',
    };
  const uncalibrated = cornersWhere((corner) => !padOf(state, corner)?.calibrated);
  if (uncalibrated.length > 0)
    return {
      about: `uncalibrated ${uncalibrated.join()}`,
      text: `Four live and zeroed. ${uncalibrated.length === 4 ? 'None is' : `${named(uncalibrated)} not`} calibrated: the span is only the maker’s rating.`,
      tone: 'calm',
    };
  return span(state, labelled);
};

/** Can the pads be trusted? */
export const padsAnswer = (seen: Seen): Answer => {
  const before = sourceAnswer(seen);
  if (before) return before;
  const { state, frame } = seen;
  if (!state) return { about: 'no state', text: 'Waiting for the bench.', tone: 'wait' };
  const answer = judged(state, frame);
  return state.practice ? { ...answer, text: `${answer.text} Practice.` } : answer;
};
