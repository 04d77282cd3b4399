import type { ReactElement } from 'react';
import type { RestBand } from '../../../core/adjust/restBand.ts';
import { fixed, HARD_SPACE } from '../../../core/format/number.ts';
import { Tag } from '../../parts/Tag.tsx';

/** How far apart the two directions of turning rest, in cross weight, and whether to settle first. */
export const BandLine = ({ band }: { readonly band: RestBand }): ReactElement => {
  // An uncertainty is rounded up to what can be shown, never to nothing.
  const percent = (warp: number, least = 0): string =>
    `${fixed(Math.max(least, 100 * Math.abs(warp) * band.crossPerWarp), 2)}${HARD_SPACE}%`;
  const { band: seen, middle } = band.band;
  return (
    <p>
      <Tag kind={band.needsSettle ? 'alarm' : 'note'}>
        {band.needsSettle ? 'settle first' : 'need not be settled'}
      </Tag>{' '}
      {seen
        ? `Friction rests cross ${percent(seen.value)} ±${percent(2 * seen.u, 0.01)} apart, turned up or down.`
        : 'Only one direction was seen, so the friction band is not known yet.'}{' '}
      Where it rests is known to ±{percent(2 * middle.u, 0.01)} cross.
    </p>
  );
};
