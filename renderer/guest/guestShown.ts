import { diagonalLabel } from '../../core/answers/balanceAnswer.ts';
import type { GuestCorner, GuestView } from '../../core/contract/guestView.ts';
import {
  CORNERS,
  CORNER_NAMES,
  cornerLabel,
  perCorner,
  type PerCorner,
} from '../../core/corners.ts';
import { decimalsFor } from '../../core/format/decimals.ts';
import { HARD_SPACE } from '../../core/format/number.ts';
import { ageShown, massShown, shareShown } from '../../core/format/quantity.ts';
import { massIn, type MassUnit } from '../../core/units.ts';
import { LIVE_FOR } from '../../core/reading.ts';
import { roughDecimals } from '../screens/Balance/cornerView.ts';

/**
 * The newest view as it must be shown after so many seconds without a newer one, in texts: what has
 * fallen silent, pad, bench or network, is old after half a second and says so.
 */

export interface CornerShown {
  readonly label: string;
  readonly name: string;
  readonly status: GuestCorner['status'];
  readonly stillness: GuestCorner['stillness'];
  readonly number: string;
  readonly unit: string;
  /** What stands under the figure: its age, an overload; empty where all is well. */
  readonly said: string;
  readonly isOverloaded: boolean;
}

export interface CallShown {
  readonly label: string;
  readonly name: string;
  readonly way: 'up' | 'down';
  readonly turns: string;
  /** Turns seen over turns called; null while the loads tell nothing. */
  readonly share: number | null;
  readonly said: string;
  readonly look: 'live' | 'reached' | 'alarm' | 'old';
}

export interface GuestShown {
  /** Nothing was heard of the bench for half a second. */
  readonly isSilent: boolean;
  readonly news: string;
  readonly tags: string;
  readonly stillness: GuestView['stillness'];
  readonly call: CallShown | null;
  readonly corners: PerCorner<CornerShown>;
  readonly cross: { readonly label: string; readonly number: string; readonly isOld: boolean };
}

const UNKNOWN = '—';
/** A tenth is what a wrench can do anything about, and what two metres can be read over. */
const MOST_DECIMALS = 1;

const numberOf = (corner: GuestCorner, unit: MassUnit): string => {
  const { status, mass, mean, u, stillness, zeroed } = corner;
  if (mass === null || !zeroed || status === 'absent') return UNKNOWN;
  if (mean === null || u === null || stillness !== 'settled')
    return massShown(unit, mass, { decimals: roughDecimals(stillness) }).number;
  return massShown(unit, mean, { decimals: decimalsFor(massIn(unit, u), MOST_DECIMALS) }).number;
};

const agedCorner = (corner: GuestCorner, silent: number): GuestCorner => {
  const age = corner.age === null ? null : corner.age + silent;
  const isOld = corner.status === 'live' && (age ?? silent) > LIVE_FOR;
  return { ...corner, age, status: isOld ? 'stale' : corner.status };
};

const cornerSaid = ({ status, age, overload, zeroed }: GuestCorner): string => {
  if (status === 'absent') return 'no pad heard';
  if (status === 'stale') return age === null ? 'old' : `${ageShown(age)} old`;
  if (overload) return 'overload';
  return zeroed ? '' : 'no zero';
};

const callShown = (view: GuestView, isLive: boolean): CallShown | null => {
  const { call, labels } = view;
  if (!call) return null;
  const { corner, way, turns, progress } = call;
  const about = { label: cornerLabel(corner, labels), name: CORNER_NAMES[corner], way, turns };
  if (!isLive || !progress)
    return { ...about, share: null, said: 'No live loads: stop turning.', look: 'old' };
  const { verdict, share, said } = progress;
  const look =
    verdict === 'over' || verdict === 'wrong sense'
      ? 'alarm'
      : verdict === 'reached'
        ? 'reached'
        : 'live';
  return { ...about, share, said, look };
};

export const guestShown = (view: GuestView, silent: number): GuestShown => {
  const corners = perCorner((corner) => agedCorner(view.corners[corner], silent));
  const isLive = Object.values(corners).every(({ status }) => status === 'live');
  const isSilent = silent > LIVE_FOR;
  const { diagonal, share } = view.cross;
  const tags = [
    ...(view.isPractice ? ['practice'] : []),
    ...(view.isCalibrated ? [] : ['not calibrated']),
  ];
  const rough = { decimals: roughDecimals(view.stillness) };
  return {
    isSilent,
    news: isSilent ? `Nothing heard for ${ageShown(silent)}` : '',
    tags: tags.join(`${HARD_SPACE}· `),
    stillness: isLive ? view.stillness : null,
    call: callShown(view, isLive && !isSilent),
    corners: perCorner((corner) => {
      const aged = corners[corner];
      return {
        label: cornerLabel(corner, view.labels),
        name: CORNER_NAMES[corner],
        status: aged.status,
        stillness: aged.status === 'live' ? aged.stillness : null,
        number: numberOf(aged, view.unit),
        unit: view.unit,
        said: cornerSaid(aged),
        isOverloaded: aged.overload,
      };
    }),
    cross: {
      label: `Cross ${diagonalLabel(diagonal, view.labels).replaceAll(' ', HARD_SPACE)}`,
      number: share
        ? shareShown(share.value, view.stillness === 'settled' ? share.u : rough).number
        : UNKNOWN,
      isOld: !isLive || isSilent || share === null,
    },
  };
};

/** While something is old its age grows in sight, in steps of so many seconds. */
const AGE_STEP = 0.1;

/** Seconds until a view that has been silent for so long is shown otherwise, if none comes. */
export const nextChange = (view: GuestView, silent: number): number => {
  const ages = CORNERS.flatMap((corner) => {
    const { status, age } = view.corners[corner];
    return status === 'live' && age !== null ? [age] : [];
  });
  const left = [0, ...ages].map((age) => LIVE_FOR - age - silent);
  return Math.min(AGE_STEP, ...left.filter((each) => each > 0));
};
