import type { PadDescriptionPort } from '../../../../core/bench/ports.ts';
import type { TrialShown } from '../../../../core/contract/trialShown.ts';
import { parseDescription } from './parseDescription.ts';

const tryOn = (text: string, bytes: Uint8Array | null): TrialShown => {
  const parsed = parseDescription(text);
  if (!parsed.ok)
    return {
      problems: parsed.problems.map(({ path, what }) => ({ path, what })),
      notices: [],
      payload: null,
    };
  const trial = bytes && parsed.pad.trial(bytes);
  return {
    problems: [],
    notices: [...parsed.pad.notices],
    payload: trial && {
      why: trial.why,
      pieces: trial.pieces.map(({ from, to, hex, field, value }) => ({
        from,
        to,
        hex,
        field,
        value,
      })),
      loads: trial.loads.map(({ value, unit }) => `${value} ${unit}`),
    },
  };
};

/** Pad descriptions for the bench: tried on bytes, and named. */
export const padDescriptions: PadDescriptionPort = {
  tryOn,
  nameOf: (text) => {
    const parsed = parseDescription(text);
    return parsed.ok ? parsed.pad.description.name : null;
  },
};
