import { z } from 'zod';

/** Name of a part that the user adds: a reference point, a ballast place, a free item. */
export const partIdSchema = z.string().regex(/^[A-Za-z0-9_-]{1,64}$/u);

/** Name of an item of a sheet: its kind, then corner, axle, side, point or place: `camber.LF`. */
export const itemIdSchema = z.string().regex(/^[A-Za-z]{1,32}(?:\.[A-Za-z0-9_+-]{1,64}){0,2}$/u);
