import { z } from 'zod';

/** A place where cars are weighed: its latitude and height give gravity, unless it was measured. */
export const venueSchema = z.strictObject({
  id: z.string().min(1),
  name: z.string().trim().min(1).max(80),
  /** Degrees, north positive. */
  latitude: z.number().min(-90).max(90),
  /** Metre over sea level. */
  height: z.number().min(-500).max(6000),
  /** Measured or published g in m/s², used instead of the computed one; null where there is none. */
  measuredGravity: z.number().min(9.7).max(9.9).nullable(),
});

export type Venue = z.infer<typeof venueSchema>;

/** The invented venues of the demonstration. */
export const EXAMPLE_VENUES: readonly Venue[] = [
  { name: 'Larkfell', latitude: 54.1, height: 210 },
  { name: 'Port Sable', latitude: 28.4, height: 5 },
  { name: 'Alto Verde', latitude: -23.7, height: 780 },
].map((venue, index) => ({
  id: `0190a0c0-0000-7000-8000-0000000001${String(index).padStart(2, '0')}`,
  measuredGravity: null,
  ...venue,
}));
