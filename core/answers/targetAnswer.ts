import type { Comparison, JudgedItem } from '../compare/compareItems.ts';
import { counted } from '../format/counted.ts';
import { BY_COMMON_LIMITS, isWeighed, itemsText, type CompareAnswer } from './compareAnswer.ts';

/** Is the car what its sheet wants? One line, and why. No cause is looked for: a target was never measured. */
export const targetAnswer = (about: {
  readonly comparison: Comparison;
  /** Corner weights were judged by common limits and not by what this car does. */
  readonly isCommonScatter: boolean;
  readonly itemName: (id: string) => string;
}): CompareAnswer => {
  const { comparison, isCommonScatter, itemName } = about;
  const { items, notCompared, takenOut } = comparison;
  const of = (verdict: JudgedItem['verdict']) => items.filter((item) => item.verdict === verdict);
  const [off, open] = [of('moved'), of('cannot tell')];
  const why = [
    ...(takenOut.length > 0 ? [`Taken out before judging: ${takenOut.join('; ')}.`] : []),
    ...notCompared.map((item) => `${itemName(item.id)} is not compared. ${item.why}`),
  ];
  const common = isCommonScatter && isWeighed(comparison) ? BY_COMMON_LIMITS : '';
  const answer = (name: string, text: string, tone: CompareAnswer['tone']): CompareAnswer => ({
    about: name,
    text: `${text}${common}`,
    tone,
    why,
  });
  if (items.length === 0)
    return {
      about: 'nothing measured',
      text: 'Nothing the sheet wants was measured.',
      tone: 'wait',
      why,
    };
  if (off.length > 0)
    return answer('off target', `Off its target: ${itemsText(off, itemName)}.`, 'alarm');
  if (open.length > 0) {
    const most = Math.max(...open.map(({ readings }) => readings ?? 0));
    const how =
      most === 0 ? 'More readings would not tell.' : `${counted(most, 'reading')} would tell.`;
    return answer('cannot tell', `Cannot tell yet: ${itemsText(open, itemName)}. ${how}`, 'wait');
  }
  return answer(
    'as wanted',
    `As the sheet wants it: ${counted(items.length, 'item')} measured, within tolerance.`,
    'calm',
  );
};
