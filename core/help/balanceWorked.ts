import { diagonalLabel } from '../answers/balanceAnswer.ts';
import type { BenchState, Frame } from '../contract/events.ts';
import { cornerLabel, CORNERS } from '../corners.ts';
import { MM, PERCENT, valueText, type Wanted } from '../format/valueShown.ts';
import { NOT_KNOWN, type PutIn, type Worked } from './worked.ts';

const EQUILIBRIUM = 'Equilibrium of a body on four supports; u by JCGM 100:2008, 5.2.2.';

/** How the balance of the settled car comes about. A car that moves is not a measurement: its loads are not known. */
export const balanceWorked = (state: BenchState, frame: Frame | null): readonly Worked[] => {
  const { massUnit, cornerLabels } = state.settings;
  const { car, gravity } = state;
  const settled = frame?.stillness === 'settled' ? frame : null;
  const balance = settled?.balance ?? null;
  const mass: Wanted = { kind: 'mass', unit: massUnit };
  const loads = CORNERS.map((corner): PutIn => {
    const mean = settled?.corners[corner].mean ?? null;
    return {
      name: cornerLabel(corner, cornerLabels),
      value: mean === null ? NOT_KNOWN : valueText(mass, mean, 0),
    };
  });
  const length = (name: string, value: number): PutIn => ({
    name,
    value: valueText(MM, value),
  });
  const waiting = `${NOT_KNOWN} until all four are settled`;
  const total = {
    name: 'total',
    value: balance ? valueText(mass, balance.total.value, 0) : NOT_KNOWN,
  };
  const [lf, rf, lr, rr] = CORNERS.map((corner) => cornerLabel(corner, cornerLabels));
  const shared = (what: string, names: string, share: number | undefined): Worked => ({
    what,
    formula: `${names}, over the total`,
    put: [...loads, total],
    result: share === undefined ? waiting : valueText(PERCENT, share, 0.0001),
    source: EQUILIBRIUM,
  });
  return [
    {
      what: 'Total',
      formula: 'the four loads together; each is a force over the gravity of the venue',
      put: [...loads, { name: 'gravity', value: `${gravity.toFixed(5)} m/s²` }],
      result: balance ? total.value : waiting,
      source: EQUILIBRIUM,
    },
    shared('Front', `${lf} + ${rf}`, balance?.frontShare.value),
    shared('Left', `${lf} + ${lr}`, balance?.leftShare.value),
    shared(
      'Cross',
      diagonalLabel(balance?.cross ?? state.settings.cross, cornerLabels),
      balance?.crossShare.value,
    ),
    {
      what: 'Centre of gravity behind the front axle',
      formula: `wheelbase × (${lr} + ${rr}), over the total`,
      put: [...loads, length('wheelbase', car.wheelbase)],
      result: balance ? valueText(MM, balance.cgBehindFrontAxle.value) : waiting,
      source: 'Moments about the front axle.',
    },
    {
      what: 'Centre of gravity left of the middle',
      formula: `half of front track × (${lf} − ${rf}) + rear track × (${lr} − ${rr}), over the total`,
      put: [...loads, length('front track', car.trackFront), length('rear track', car.trackRear)],
      result: balance ? valueText(MM, balance.cgLeftOfCentre.value) : waiting,
      source: 'Moments about the centre line.',
    },
  ];
};
