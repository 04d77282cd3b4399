import { cornerLabel, type CornerLabelStyle } from '../corners.ts';
import type { PatchEffects, PatchVerdict } from '../flatPatch/effect.ts';
import type { LevelledPatch } from '../flatPatch/levelPatch.ts';
import type { SurveyRefusal } from '../flatPatch/levelSurvey.ts';
import type { PatchMoved } from '../flatPatch/patchMoved.ts';
import { fixed, HARD_SPACE } from '../format/number.ts';
import { inWords, massShown } from '../format/quantity.ts';
import type { MassUnit } from '../units.ts';
import type { Answer } from './answer.ts';

/** What the answer is made of; null where it is not there yet. */
export interface PatchSeen {
  readonly patch: LevelledPatch | SurveyRefusal | null;
  readonly effects: PatchEffects | null;
  readonly verdict: PatchVerdict | null;
  readonly moved: PatchMoved | null;
  readonly massUnit: MassUnit;
  readonly labels: CornerLabelStyle;
}

const millimetres = (metres: number): string => `${fixed(1000 * metres, 2)}${HARD_SPACE}mm`;

/** Is the ground flat? */
export const flatPatchAnswer = ({
  patch,
  effects,
  verdict,
  moved,
  massUnit,
  labels,
}: PatchSeen): Answer => {
  if (!patch)
    return {
      about: 'no survey',
      text: 'Not known: survey the four pads with a laser and a staff.',
      tone: 'wait',
    };
  if (!patch.ok) return { about: patch.code, text: `${patch.why} ${patch.next}`, tone: 'wait' };
  if (moved?.answer === 'moved') {
    const { likeliest, others } = moved;
    const which =
      likeliest === null
        ? 'More than one pad went.'
        : `${[likeliest.pad, ...others].map((pad) => cornerLabel(pad, labels)).join(' or ')} ${likeliest.change.value < 0 ? 'sank' : 'rose'} by ${millimetres(Math.abs(likeliest.change.value))}:`;
    return {
      about: `moved ${likeliest?.pad ?? ''}`,
      text: `The patch has moved. ${which} ${likeliest === null ? 'Level' : 'level'} it again and weigh again.`,
      tone: 'alarm',
    };
  }
  const u = 1000 * patch.twist.u;
  // An uncertainty that rounds away is not zero.
  const known = u < 0.005 ? '<0.01' : fixed(u, 2);
  const twist = `Twist ${millimetres(Math.abs(patch.twist.value))} ±${known}`;
  if (moved?.answer === 'cannot tell')
    return {
      about: 'cannot tell whether moved',
      text: `Whether the patch has moved these sights cannot tell. ${twist}. Read every point more often.`,
      tone: 'wait',
    };
  if (!effects) return { about: 'twist', text: `${twist}.`, tone: 'calm' };
  const worst = Math.max(
    ...Object.values(effects.barsOff.corners).map(({ value }) => Math.abs(value)),
  );
  const cross = 100 * Math.abs(effects.barsOff.cross.value);
  const said = `${twist}: ${inWords(massShown(massUnit, worst, { decimals: 2 }))} on the worst corner, ${fixed(cross, 2)}${HARD_SPACE}% cross.`;
  switch (verdict) {
    case 'good enough':
      return { about: 'good', text: `Yes. ${said}`, tone: 'calm' };
    case 'not good enough':
      return { about: 'not good', text: `No. ${said} Turn the screws in the list.`, tone: 'alarm' };
    case 'cannot tell':
      return {
        about: 'cannot tell',
        text: `Cannot tell yet. ${said} More sights of each point would.`,
        tone: 'wait',
      };
    case null:
      return { about: 'twist', text: said, tone: 'calm' };
  }
};
