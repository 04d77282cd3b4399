import { z } from 'zod';

/** Once round the whole job on the practice rig, as far as somebody has come. */
export const practiceWalkSchema = z.strictObject({
  /** What became of each step so far, in their order: the step after the last is the one at hand. */
  steps: z.array(z.enum(['done', 'skipped'])).max(12),
  /** Left for now: it can be gone on with. */
  isLeft: z.boolean(),
  /** Runs that the practice car had been on when the walk began. */
  runsBefore: z.number().int().nonnegative(),
});
export type PracticeWalk = z.infer<typeof practiceWalkSchema>;
