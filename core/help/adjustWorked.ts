import type { AdjustmentNow } from '../adjust/adjustment.ts';
import { perTurn } from '../adjust/learn.ts';
import { seatEffects, seatPerTurnWith } from '../adjust/turnResponse.ts';
import { twist, warpPattern } from '../adjust/warp.ts';
import { cornerLabel, CORNERS, perCorner, type CornerLabelStyle } from '../corners.ts';
import { fixed, HARD_SPACE } from '../format/number.ts';
import { changeText, MM, type Wanted } from '../format/valueShown.ts';
import { massIn, type MassUnit } from '../units.ts';
import { NOT_KNOWN, type Worked } from './worked.ts';

/** Finer than lengths are shown elsewhere: it is multiplied. */
const seatText = (seat: number): string => `${fixed(1000 * seat, 4)}${HARD_SPACE}mm`;
const NO_ADJUSTER = `${NOT_KNOWN}: this corner has no adjuster`;

/** What a turn at each corner does, by the response as it is learnt so far, and the warp it makes. */
export const adjustWorked = (
  { response, reading: { gravity } }: Pick<AdjustmentNow, 'response' | 'reading'>,
  wording: { readonly labels: CornerLabelStyle; readonly massUnit: MassUnit },
): readonly Worked[] => {
  const { labels, massUnit } = wording;
  const mass: Wanted = { kind: 'mass', unit: massUnit };
  const { car } = response.standing;
  const turns = perTurn(response);
  const seats = seatPerTurnWith(response, response.logFactors);
  const effects = seatEffects(response, response.logFactors);
  const pattern = warpPattern(car);
  return [
    ...CORNERS.map((corner, i): Worked => {
      const turn = turns[corner];
      const perMetre = (effects[i]?.[i] ?? Number.NaN) / gravity;
      return {
        what: `One turn up at ${cornerLabel(corner, labels)}, its own load`,
        formula: 'rise of the seat at the wheel in a turn × load that a millimetre of it moves',
        put: [
          {
            name: 'seat a turn',
            value: turn ? seatText(seats[i] ?? Number.NaN) : NOT_KNOWN,
          },
          {
            name: 'load',
            value: `${fixed(massIn(massUnit, perMetre / 1000), 3)} ${massUnit}/mm`,
          },
        ],
        result: turn ? changeText(mass, turn.load.value / gravity, 0.01) : NO_ADJUSTER,
        source:
          'The car’s pitch, motion ratio and wheel rates, corrected by every turn that was read.',
      };
    }),
    {
      what: `Twist that one turn at ${cornerLabel('RF', labels)} makes`,
      formula:
        'seat a turn × its place in the warp pattern 1, −1, −front/rear track, front/rear track',
      put: [
        {
          name: 'seat a turn',
          value: turns.RF ? seatText(seats[1] ?? Number.NaN) : NOT_KNOWN,
        },
        { name: 'place', value: fixed(pattern.RF, 3) },
      ],
      result: turns.RF
        ? changeText(
            MM,
            twist(
              car,
              perCorner((corner) => (corner === 'RF' ? (seats[1] ?? 0) : 0)),
            ),
            1e-6,
          )
        : NO_ADJUSTER,
      source:
        'Four loads less three of equilibrium leave one pattern that seats and pads can make.',
    },
  ];
};
