import { fixed, HARD_SPACE } from '../format/number.ts';
import { massFrom, massIn, type MassUnit } from '../units.ts';
import type { BeyondTurns } from './beyondTurns.ts';

/** What turns cannot change, and what can. */
export const beyondInWords = (
  { kind, now, target, mass, moment }: BeyondTurns,
  unit: MassUnit,
): string => {
  if (mass !== null) {
    const shown = (kg: number): string =>
      `${fixed(massIn(unit, Math.abs(kg)), 1)}${HARD_SPACE}${unit}`;
    return `The total stays ${shown(now)}: turning moves load, it makes none. ${mass > 0 ? 'Put in' : 'Take out'} ${shown(mass)} of ballast or fuel for ${shown(target)}.`;
  }
  const size = Math.abs(moment ?? 0);
  const [name, to] =
    kind === 'front share'
      ? ['Front', (moment ?? 0) > 0 ? 'forward' : 'to the rear']
      : ['Left', (moment ?? 0) > 0 ? 'to the left' : 'to the right'];
  const shown = (share: number): string => `${fixed(share * 100, 2)}${HARD_SPACE}%`;
  // Ten of the unit, moved so far: a moment people can picture.
  const metres = size / massFrom(unit, 10);
  return `${name} stays ${shown(now)}: no turn changes it. For ${shown(target)} move ballast, fuel or parts ${to}, as 10${HARD_SPACE}${unit} by ${fixed(metres, 2)}${HARD_SPACE}m.`;
};
