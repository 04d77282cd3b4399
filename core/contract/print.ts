import { z } from 'zod';

/** Papers and tables that can be asked for. */

const id = z.string().min(1).max(64);

export const printWhatSchema = z.discriminatedUnion('is', [
  /** On paper it is whole; as numbers, its points or all else that is known of it. */
  z.strictObject({
    is: z.literal('certificate'),
    padSerial: id,
    calibrationId: id,
    table: z.enum(['points', 'facts']),
  }),
  /** The uncertainty budgets of a capture. */
  z.strictObject({ is: z.literal('budget'), captureId: id }),
  /** A version of a set-up sheet, and a car state record, on one page with the car from above. */
  z.strictObject({ is: z.literal('sheet'), lineageId: id, sheetId: id }),
  z.strictObject({ is: z.literal('record'), recordId: id }),
]);
export type PrintWhat = z.infer<typeof printWhatSchema>;

export const printFormSchema = z.enum(['pdf', 'csv']);
export type PrintForm = z.infer<typeof printFormSchema>;

export const printedSchema = z.strictObject({
  is: z.literal('printed'),
  /** Name of the file. */
  name: z.string().min(1),
  /** Media type. */
  type: z.string().min(1),
  content: z.discriminatedUnion('is', [
    z.strictObject({ is: z.literal('text'), text: z.string() }),
    z.strictObject({ is: z.literal('bytes'), base64: z.string() }),
  ]),
});
export type Printed = z.infer<typeof printedSchema>;
