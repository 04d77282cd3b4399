import { FAULTS } from '../faults.ts';
import type { Answer } from './answer.ts';
import type { Seen } from './cornerCheck.ts';

/** What stands in the way before any pad can be heard; null when nothing does. */
export const sourceAnswer = ({ joined, state }: Seen): Answer | null => {
  if (!state)
    return joined
      ? { about: 'joining', text: 'Waiting for the bench to say how it stands.', tone: 'wait' }
      : { about: 'no bench', text: 'The bench does not answer. Trying again.', tone: 'alarm' };
  if (!joined)
    return {
      about: 'link broken',
      text: 'The link to the bench is broken. What is shown is old. Trying again.',
      tone: 'alarm',
    };
  if (state.source === null)
    return {
      about: 'no source',
      text: 'No pads yet. Practise on the rig, or look for pads.',
      tone: 'wait',
    };
  if (state.radioFault) {
    const { cause, remedy } = FAULTS[state.radioFault.code];
    return { about: state.radioFault.code, text: `${cause} ${remedy}`, tone: 'alarm' };
  }
  if (state.radio === 'starting')
    return { about: 'starting', text: 'Waiting for the radio to start.', tone: 'wait' };
  if (state.radio !== 'on')
    return { about: 'radio', text: `The radio is ${state.radio}.`, tone: 'alarm' };
  return null;
};
