import { z } from 'zod';

/** Degrees of freedom: they may be infinite, which JSON cannot say, so null stands for Infinity there. */
export const dofSchema = z
  .number()
  .positive()
  .nullable()
  .transform((dof) => dof ?? Infinity);
