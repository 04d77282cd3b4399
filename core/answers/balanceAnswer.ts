import { cornerLabel, CORNERS, type Corner } from '../corners.ts';
import type { BenchState, Frame } from '../contract/events.ts';
import type { Balance } from '../contract/records.ts';
import { inWords, massShown, shareShown } from '../format/quantity.ts';
import type { Measured } from '../measured.ts';
import { CAR_STATE_ITEMS } from '../sheet/carState.ts';
import { checkTotal } from '../signal/totalCheck.ts';
import { listed, type Answer } from './answer.ts';
import { EARLY_NOTE } from './captureChange.ts';
import { arePadsEmpty, cornersWhere, type Seen } from './cornerCheck.ts';
import { sourceAnswer } from './sourceAnswer.ts';

/** The diagonal in the labels the crew uses, in the order of the setting: "RF + LR". */
export const diagonalLabel = (
  diagonal: Balance['cross'],
  labels: BenchState['settings']['cornerLabels'],
): string => {
  const [first, second]: readonly [Corner, Corner] =
    diagonal === 'RF+LR' ? ['RF', 'LR'] : ['LF', 'RR'];
  return `${cornerLabel(first, labels)} + ${cornerLabel(second, labels)}`;
};

const inTheWay = (state: BenchState, frame: Frame): Answer | null => {
  const named = (corners: readonly Corner[]): string =>
    listed(corners.map((corner) => cornerLabel(corner, state.settings.cornerLabels)));
  const are = (corners: readonly Corner[], one: string, more: string): string =>
    corners.length === 1 ? one : more;

  const without = cornersWhere((corner) => state.assigned[corner] === null);
  if (without.length > 0)
    return {
      about: `no pad ${without.join()}`,
      text: `No pad for ${without.length === 4 ? 'any corner' : named(without)} yet. Give each corner its pad under Pads.`,
      tone: 'wait',
    };
  const absent = cornersWhere((corner) => frame.corners[corner].status === 'absent');
  if (absent.length > 0)
    return {
      about: `absent ${absent.join()}`,
      text: `The ${are(absent, 'pad', 'pads')} of ${named(absent)} ${are(absent, 'was', 'were')} not heard yet.`,
      tone: 'wait',
    };
  const stale = cornersWhere((corner) => frame.corners[corner].status === 'stale');
  if (stale.length > 0)
    return {
      about: `stale ${stale.join()}`,
      text: `${named(stale)} ${are(stale, 'is', 'are')} not live: what is shown there is old.`,
      tone: 'alarm',
    };
  const over = cornersWhere((corner) => frame.corners[corner].overload);
  if (over.length > 0)
    return {
      about: `overload ${over.join()}`,
      text: `Overload on ${named(over)}. Take the load off; check rating and zero before going on.`,
      tone: 'alarm',
    };
  const unzeroed = cornersWhere((corner) => !frame.corners[corner].zeroed);
  if (unzeroed.length > 0)
    return {
      about: `no zero ${unzeroed.join()}`,
      text: `No zero yet${unzeroed.length === 4 ? '' : ` on ${named(unzeroed)}`}. With the car raised and nothing on the pads, take the zero.`,
      tone: 'wait',
    };
  return null;
};

/** Least difference of the total that is asked about, kg: a hand that rests on the car. Own choice. */
const TOTAL_ASKED = 0.5;

/** A steady hand is a settled load: only the total, against the last capture of this state, shows it. */
const totalRemark = ({ captures, carState, settings }: BenchState, total: Measured): string => {
  const last = captures.find((each) => !each.setAside && !each.carStateNotes.includes(EARLY_NOTE));
  if (!last || !CAR_STATE_ITEMS.every(({ item }) => last.carState[item] === carState[item]))
    return '';
  const { difference, verdict } = checkTotal(total, {
    expected: last.balance.total,
    smallest: TOTAL_ASKED,
  });
  if (verdict !== 'heavier' && verdict !== 'lighter') return '';
  const by = massShown(settings.massUnit, Math.abs(difference.value), difference.u);
  return ` ${inWords({ ...by, u: null })} ${verdict} than capture ${last.number} in the same state: is somebody ${verdict === 'heavier' ? 'leaning on' : 'lifting'} the car, or is the state of the car another?`;
};

const settledText = (state: BenchState, frame: Frame, balance: Balance): string => {
  const cross = shareShown(balance.crossShare.value, balance.crossShare.u);
  const diagonal = diagonalLabel(balance.cross, state.settings.cornerLabels);
  const worst = Math.max(...CORNERS.map((corner) => frame.corners[corner].u ?? Number.NaN));
  const total = massShown(state.settings.massUnit, balance.total.value, balance.total.u);
  const seconds = Math.floor(frame.settledFor);
  const still = seconds < 1 ? 'Just settled' : `Still for ${seconds} s`;
  const known = Number.isFinite(worst)
    ? `, ±${massShown(state.settings.massUnit, worst, worst).u ?? ''} ${state.settings.massUnit} a corner`
    : '';
  const remark = totalRemark(state, balance.total);
  return `Cross ${inWords({ ...cross, u: null })} (${diagonal}), total ${inWords({ ...total, u: null })}. ${still}${known}.${remark}`;
};

const weight = (state: BenchState, frame: Frame): Answer => {
  if (state.practice?.car === 'lowering')
    return { about: 'lowering', text: 'Not yet: the car is coming down.', tone: 'wait' };
  if (arePadsEmpty(frame))
    return {
      about: 'empty',
      text: 'Nowhere yet: the pads are empty. Lower the car when all are clear.',
      tone: 'wait',
    };
  const { balance, stillness } = frame;
  if (!balance || stillness === null)
    return { about: 'no balance', text: 'The four loads do not make a car yet.', tone: 'wait' };
  if (stillness === 'settled')
    return { about: 'settled', text: settledText(state, frame, balance), tone: 'calm' };
  const { early } = frame;
  if (early) {
    const { crossShare, cross } = early.balance;
    return {
      about: `${stillness} early`,
      text: `${stillness === 'moving' ? 'Still moving' : 'Calming'}. Going to cross ${inWords(shareShown(crossShare.value, crossShare.u))} (${diagonalLabel(cross, state.settings.cornerLabels)}), provisional.`,
      tone: 'wait',
    };
  }
  const rough = shareShown(balance.crossShare.value, { decimals: stillness === 'moving' ? 0 : 1 });
  const diagonal = diagonalLabel(balance.cross, state.settings.cornerLabels);
  return {
    about: stillness,
    text: `${stillness === 'moving' ? 'Still moving' : 'Calming'}. Cross near ${inWords(rough)} (${diagonal}).`,
    tone: 'wait',
  };
};

/** Where is the weight? */
export const balanceAnswer = (seen: Seen): Answer => {
  const before = sourceAnswer(seen);
  if (before) return before;
  const { state, frame } = seen;
  if (!state || !frame)
    return { about: 'no frame', text: 'Waiting for the first reading.', tone: 'wait' };
  const blocked = inTheWay(state, frame);
  const answer = blocked ?? weight(state, frame);
  const hasNumbers = answer.about === 'settled';
  const uncalibrated = cornersWhere((corner) => !frame.corners[corner].calibrated);
  const remarks = [
    hasNumbers && uncalibrated.length > 0 ? ' Not calibrated.' : '',
    state.practice ? ' Practice.' : '',
  ].join('');
  return { ...answer, text: answer.text + remarks };
};
