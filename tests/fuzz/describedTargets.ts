import {
  describe,
  parseDescription,
} from '../../drivers/pads/protocol/description/parseDescription.ts';
import type { DescribedPad } from '../../drivers/pads/protocol/description/compileDescription.ts';
import { createRandom } from '../../drivers/pads/rig/random.ts';
import { BUILT_IN_DESCRIPTIONS } from '../drivers/protocol/builtInDescriptions.ts';
import { pageTexts, pageTries } from '../drivers/protocol/descriptionPage.ts';
import { changeBytes } from './changes.ts';
import { changeJson } from './changeJson.ts';
import { lookAtPacket } from './padTargets.ts';
import { below, must, type Target } from './target.ts';

/** Pad descriptions: what any of them makes of any bytes, and what any text makes of a description. */

const FILES = [
  ...['compileDescription', 'loadDecoder', 'walkPayload', 'payloadPlan', 'trialDecode'],
  ...['parseDescription', 'planProblems', 'variantProblems', 'problems', 'describedRating'],
  ...['exactScale', 'scalars', 'describedCommands'],
].map((name) => `protocol/description/${name}.ts`);

const TEXTS: readonly string[] = [...pageTexts.values(), ...BUILT_IN_DESCRIPTIONS.map(describe)];

const PADS: readonly DescribedPad[] = TEXTS.map((text) => {
  const parsed = parseDescription(text);
  if (!parsed.ok) throw new Error('an example is no description');
  return parsed.pad;
});

const bytesOf = (hex: string): Uint8Array =>
  Uint8Array.from(Buffer.from(hex.replaceAll(' ', ''), 'hex'));

/** One pad on some bytes: its decoder, its exact twin and its trial tell the same. */
const lookAtPad = (pad: DescribedPad, bytes: Uint8Array): boolean => {
  const decoded = pad.decode(bytes);
  lookAtPacket(decoded, 32);
  const weighed = pad.weigh(bytes);
  must(weighed.ok === decoded.ok, 'weighed and decoded do not agree');
  if (decoded.ok && weighed.ok)
    must(weighed.loads.length === decoded.packet.counts.length, 'loads are lost');
  const { rating } = pad.model ?? { rating: { fixed: null } };
  const rated = 'fixed' in rating ? rating.fixed : rating.decode(bytes);
  if (rated)
    must(
      Number.isFinite(rated.ratedLoad) &&
        rated.ratedLoad > 0 &&
        rated.countsAtRatedLoad > 0 &&
        Number.isFinite(rated.countsAtRatedLoad) &&
        rated.resolution > 0,
      'a rating that is no number above zero',
    );
  return decoded.ok;
};

const lookAtTrial = (pad: DescribedPad, bytes: Uint8Array): void => {
  const { pieces, why, packet } = pad.trial(bytes);
  must((why === null) === (packet !== null), 'the trial does not know whether it was accepted');
  must(pieces.length <= 96 + bytes.length, 'more pieces than bytes');
  if (why !== null) return;
  const covered = new Uint8Array(bytes.length);
  for (const { from, to } of pieces) {
    must(from >= 0 && from < to && to <= bytes.length, 'a piece outside the payload');
    covered.fill(1, from, to);
  }
  must(!covered.includes(0), 'a byte that no piece shows');
};

/** The first byte picks the pad, the others are what it sent. */
const describedBytes: Target<Uint8Array> = {
  name: 'described pads',
  kind: 'bytes',
  files: FILES,
  seeds: PADS.flatMap((_, index) =>
    [...pageTries.map(({ hex }) => bytesOf(hex)), new Uint8Array(10)].map((bytes) =>
      Uint8Array.of(index, ...bytes),
    ),
  ),
  longest: 128,
  change: changeBytes,
  run: (input) => {
    const pad = PADS[(input[0] ?? 0) % PADS.length] as DescribedPad;
    const bytes = input.subarray(1);
    const accepted = lookAtPad(pad, bytes);
    // The trial costs as much as ten decodes: one input in sixteen.
    if (((input[1] ?? 0) + input.length) % 16 === 0) lookAtTrial(pad, bytes);
    return accepted;
  },
};

const descriptions: Target<string> = {
  name: 'pad descriptions',
  kind: 'text',
  files: FILES,
  seeds: TEXTS,
  longest: 70_000,
  change: changeJson,
  run: (text) => {
    const parsed = parseDescription(text);
    if (!parsed.ok) {
      must(parsed.problems.length > 0, 'refused without a word');
      must(parsed.problems.length <= 50, 'more problems than anyone reads');
      must(
        parsed.problems.every(({ what }) => what !== '' && what.length < 400),
        'a problem that is no line',
      );
      return false;
    }
    const { pad } = parsed;
    const again = parseDescription(describe(pad.description));
    must(
      again.ok && JSON.stringify(again.pad.description) === JSON.stringify(pad.description),
      'written and read again it is another description',
    );
    const random = createRandom(text.length);
    for (const length of [0, 1, 3, 8, 10, 20, 64, 512]) {
      const bytes = Uint8Array.from({ length }, () => below(random, 256));
      lookAtPad(pad, bytes);
      lookAtTrial(pad, bytes);
      lookAtPad(pad, new Uint8Array(length));
    }
    return true;
  },
};

export const DESCRIBED_BYTES: readonly Target<Uint8Array>[] = [describedBytes];
export const DESCRIPTION_TEXTS: readonly Target<string>[] = [descriptions];
