import { DESCRIBED_BYTES, DESCRIPTION_TEXTS } from './describedTargets.ts';
import { DOOR_TARGETS } from './doorTargets.ts';
import { PAD_TARGETS } from './padTargets.ts';
import { recordings } from './recordingTarget.ts';
import { RECORD_TARGETS } from './recordTargets.ts';
import type { Target } from './target.ts';
import { TYPED_TARGETS } from './typedTargets.ts';

/** Everything that takes what others wrote. */
export const BYTES_TARGETS: readonly Target<Uint8Array>[] = [...PAD_TARGETS, ...DESCRIBED_BYTES];

/** Files and messages of JSON. */
export const JSON_TARGETS: readonly Target<string>[] = [
  ...DESCRIPTION_TEXTS,
  recordings,
  ...RECORD_TARGETS,
];

/** Text of other kinds. */
export const TEXT_TARGETS: readonly Target<string>[] = [...TYPED_TARGETS, ...DOOR_TARGETS];
