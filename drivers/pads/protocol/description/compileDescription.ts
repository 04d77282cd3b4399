import type { Decoded, PadModel } from '../model.ts';
import { describedCommands } from './describedCommands.ts';
import { describedRating, ratingProblems } from './describedRating.ts';
import type { PadDescription } from './descriptionSchema.ts';
import { createLoadDecoder, type Weighed } from './loadDecoder.ts';
import { planProblems } from './planProblems.ts';
import type { DescriptionProblem, Tell } from './problems.ts';
import { bytesOfHex } from './scalars.ts';
import { trialDecode, type Trial } from './trialDecode.ts';

/** A pad description made to work. */
export interface DescribedPad {
  readonly description: PadDescription;
  /** For the registry; null where the device only advertises, which is not streamed yet. */
  readonly model: PadModel | null;
  readonly decode: (bytes: Uint8Array) => Decoded;
  /** Loads to the last digit, in the unit sent: for checks against what a maker states. */
  readonly weigh: (bytes: Uint8Array) => Weighed;
  /** Bytes beside decoded values, for people. */
  readonly trial: (bytes: Uint8Array) => Trial;
  /** What works less well than it might, and why. */
  readonly notices: readonly string[];
}

export type Compiled =
  | { readonly ok: true; readonly pad: DescribedPad }
  | { readonly ok: false; readonly problems: readonly DescriptionProblem[] };

/** What does not fit between the parts of the payload, beyond its fields. */
const payloadProblems = ({ payload }: PadDescription, tell: Tell): void => {
  const load = payload.fields.findIndex(({ is }) => is === 'load');
  const field = payload.fields[load];
  if (field?.is !== 'load') {
    tell('payload.fields', 'add a field of kind “load”: it is what the pad is for');
    return;
  }
  const rated = payload.fields.filter((one) => one.is === 'bits' && one.rate);
  if (rated.length > 1) tell('payload.fields', 'keep one field with a rate');
  if (rated.some(({ when }) => when))
    tell('payload.fields', 'take the condition off the field with the rate');
  if (rated.length > 0 && payload.rate !== undefined)
    tell('payload.rate', 'take it out: the payload says its rate');
  if (field.repeat && field.repeat.most > 1 && rated.length === 0 && payload.rate === undefined)
    tell('payload.rate', 'missing: several samples need a rate to be placed in time, Hz');
};

const streamProblems = ({ recognise, stream }: PadDescription, tell: Tell): void => {
  if (stream.by === 'advertisement') {
    if (recognise.services.length === 0 && !recognise.manufacturer)
      tell('recognise', 'name a service or how the manufacturer data begins');
  } else if (recognise.services.length === 0)
    tell('recognise.services', 'name at least one service that the pad advertises');
};

const noticesOf = ({ stream, payload, rating }: PadDescription): readonly string[] => {
  const has = (kind: string): boolean => payload.fields.some(({ is }) => is === kind);
  const notices: string[] = [];
  if (stream.by === 'advertisement')
    notices.push('Pads that only advertise can be tried here and are not streamed yet.');
  if (has('sequence') !== has('clock'))
    notices.push(
      'Lost samples are only told by number and clock together; one of them alone is not used.',
    );
  else if (!has('sequence'))
    notices.push(
      'Without a number and a clock samples are placed by arrival; losses are not told.',
    );
  if (rating.from === 'unknown')
    notices.push('Without a rating the pad shows no load before it is calibrated.');
  return notices;
};

const modelOf = (
  description: PadDescription,
  decode: PadModel['decode'],
  rating: PadModel['rating'],
): PadModel | null => {
  const { name, title, recognise, stream, start, noisy, silentAfter } = description;
  const [service, ...alsoAdvertised] = recognise.services;
  if (stream.by === 'advertisement' || service === undefined) return null;
  return {
    name,
    title,
    service,
    alsoAdvertised,
    stream: { service: stream.service, uuid: stream.characteristic },
    start: (start ?? []).map((one) => ({
      at: { service: one.service, uuid: one.characteristic },
      bytes: bytesOfHex(one.write),
      when: one.when,
    })),
    decode,
    noisy,
    silentAfter,
    rating,
    control: describedCommands(description),
  };
};

/** Makes a described pad work, or says what in its description does not fit together. */
export const compileDescription = (description: PadDescription): Compiled => {
  const problems: DescriptionProblem[] = [];
  const tell: Tell = (path, what) => problems.push({ path, what });
  const { payload, rating } = description;
  streamProblems(description, tell);
  payloadProblems(description, tell);
  problems.push(...planProblems(payload, 'payload'));
  if (rating.from === 'read') problems.push(...planProblems(rating, 'rating'));
  if (problems.length > 0) return { ok: false, problems };
  const decoder = createLoadDecoder(payload);
  ratingProblems(description, decoder, tell);
  if (problems.length > 0) return { ok: false, problems };
  const { decode, weigh } = decoder;
  return {
    ok: true,
    pad: {
      description,
      model: modelOf(description, decode, describedRating(description, decoder)),
      decode,
      weigh,
      trial: (bytes) => trialDecode(decoder, bytes),
      notices: noticesOf(description),
    },
  };
};
