import { normalGravity } from '../calibration/gravity.ts';
import type { BenchState } from '../contract/events.ts';
import { fixed } from '../format/number.ts';
import type { Worked } from './worked.ts';

const G = 'm/s²';

/** How counts become a mass, and where the gravity in it comes from. */
export const padsWorked = ({
  venue,
  gravity,
}: Pick<BenchState, 'venue' | 'gravity'>): readonly Worked[] => {
  const { latitude, height, measuredGravity } = venue;
  const computed = normalGravity(venue);
  return [
    {
      what: 'Load of a pad',
      formula:
        'counts less the counts of the zero, by the pad’s calibration a force; the force over gravity a mass',
      put: [{ name: 'gravity', value: `${fixed(gravity, 5)} ${G}` }],
      result: `1 kg pulls with ${fixed(gravity, 5)} N`,
      source:
        'A strain gauge measures force. Without a calibration the counts go by the maker’s rating, and that is said.',
    },
    {
      what: `Normal gravity at ${venue.name}`,
      formula:
        'gravity of the ellipsoid by latitude (9.7803253359 × (1 + 0.00193185265241 sin²) / √(1 − 0.00669437999014 sin²)), less with height',
      put: [
        { name: 'latitude', value: `${fixed(latitude, 2)}°` },
        { name: 'height', value: `${fixed(height, 0)} m` },
      ],
      result: `${fixed(computed, 5)} ${G}`,
      source:
        'WGS 84, NIMA TR8350.2, equation 4-3, after Somigliana. A true place differs by 1 to 6 in 100 000.',
    },
    {
      what: 'Gravity used here',
      formula:
        'the gravity measured or published for the venue where there is one, else the normal one',
      put: [
        {
          name: 'measured or published',
          value: measuredGravity === null ? 'none' : `${fixed(measuredGravity, 5)} ${G}`,
        },
        { name: 'normal', value: `${fixed(computed, 5)} ${G}` },
      ],
      result: `${fixed(gravity, 5)} ${G}`,
      source: 'The venue as it was typed.',
    },
  ];
};
