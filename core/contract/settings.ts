import { z } from 'zod';
import { CORNER_LABEL_STYLES } from '../corners.ts';
import { MASS_UNITS } from '../units.ts';
import { CROSS_DIAGONALS } from './records.ts';

export const PAPER_SIZES = ['A4', 'letter'] as const;
export type PaperSize = (typeof PAPER_SIZES)[number];

/** What the crew chose once. */
export const settingsSchema = z.strictObject({
  massUnit: z.enum(MASS_UNITS),
  cornerLabels: z.enum(CORNER_LABEL_STYLES),
  cross: z.enum(CROSS_DIAGONALS),
  theme: z.enum(['daylight', 'night', 'as the system']),
  /** Settings stored before there was paper have none. */
  paper: z.enum(PAPER_SIZES).default('A4'),
  /** Shift of a zero, kg, over which a capture is marked; common practice, no source. */
  zeroShiftLimit: z.number().positive().max(10).default(0.2),
  /** Where copies of the records go; null: none are made. */
  copyFolder: z.string().min(1).max(400).nullable().default(null),
});
export type Settings = z.infer<typeof settingsSchema>;

export const DEFAULT_SETTINGS: Settings = {
  massUnit: 'kg',
  cornerLabels: 'LF RF LR RR',
  cross: 'RF+LR',
  theme: 'as the system',
  paper: 'A4',
  zeroShiftLimit: 0.2,
  copyFolder: null,
};
