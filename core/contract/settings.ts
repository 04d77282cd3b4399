import { z } from 'zod';
import { CORNER_LABEL_STYLES } from '../corners.ts';
import { MASS_UNITS } from '../units.ts';
import { CROSS_DIAGONALS } from './records.ts';

/** What the crew chose once. */
export const settingsSchema = z.strictObject({
  massUnit: z.enum(MASS_UNITS),
  cornerLabels: z.enum(CORNER_LABEL_STYLES),
  cross: z.enum(CROSS_DIAGONALS),
  theme: z.enum(['daylight', 'night', 'as the system']),
});
export type Settings = z.infer<typeof settingsSchema>;

export const DEFAULT_SETTINGS: Settings = {
  massUnit: 'kg',
  cornerLabels: 'LF RF LR RR',
  cross: 'RF+LR',
  theme: 'as the system',
};
