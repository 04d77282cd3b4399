import type uPlot from 'uplot';
import type { TraceRing } from '../../../renderer/live/traceRing.ts';
import { SPAN, SPIKE } from './scene.ts';

/** Whether the planted spikes are in what was drawn: read back from the path, or from the pixels. */
export interface Spikes {
  readonly seen: number;
  readonly planted: number;
}

/** Half a second at either end is left out: it comes and goes while it is read. */
const EDGE = 0.5;

/** Spikes of the last 20 s that the ring holds: age in seconds and mass. */
const spikesOf = (ring: TraceRing): readonly { readonly t: number; readonly mass: number }[] => {
  const end = ring.written();
  const newest = ring.timeAt(end - 1);
  const found = [];
  for (let at = Math.max(ring.oldest() + 1, 1); at < end - 1; at += 1) {
    const t = ring.timeAt(at);
    if (t < newest - SPAN + EDGE || t > newest - EDGE) continue;
    const mass = ring.massAt(at);
    if (mass - ring.massAt(at - 1) > SPIKE / 2 && mass - ring.massAt(at + 1) > SPIKE / 2)
      found.push({ t, mass });
  }
  return found;
};

/** Peaks in a trace's path: points that stand out above both neighbours, pixels from the top. */
const peaksOf = (d: string, least: number): number => {
  const ys = [...d.matchAll(/[ML]-?[\d.]+ (-?[\d.]+)/g)].map((match) => Number(match[1]));
  let peaks = 0;
  for (let at = 1; at < ys.length - 1; at += 1) {
    const y = ys[at] as number;
    // The neighbour in the same column may be the spike's own flank: look two points either way.
    const around = [ys[at - 2], ys[at - 1], ys[at + 1], ys[at + 2]].filter(
      (each) => each !== undefined,
    );
    if (y <= Math.min(...around) && Math.max(...around) - y > least) peaks += 1;
  }
  return peaks;
};

/** Spikes in our path. */
export const spikesInPath = (index: number, ring: TraceRing, _now: number | null): Spikes => {
  const path = document.querySelectorAll<SVGPathElement>('path.trace-line')[index];
  const planted = spikesOf(ring).length;
  const svg = path?.ownerSVGElement;
  if (!path || !svg) return { seen: 0, planted };
  const masses = spikesOf(ring).map(({ mass }) => mass);
  const height = svg.height.baseVal.value;
  // A spike is half of what is drawn or so; a fifth of it is well above the swing's slope.
  const peaks = peaksOf(path.getAttribute('d') ?? '', height / 10);
  return { seen: Math.min(peaks, masses.length), planted };
};

/** Spikes in the reference's canvas: ink at the place of each peak. */
export const spikesInCanvas = (plot: uPlot | null, ring: TraceRing): Spikes => {
  const spikes = spikesOf(ring);
  if (!plot) return { seen: 0, planted: spikes.length };
  const context = plot.ctx;
  const newestDrawn = plot.data[0].at(-1) ?? 0;
  const newest = ring.timeAt(ring.written() - 1);
  const seen = spikes.filter(({ t, mass }) => {
    const x = Math.round(plot.valToPos(t - newest + newestDrawn, 'x', true));
    const y = Math.round(plot.valToPos(mass, 'y', true));
    const { data } = context.getImageData(x - 3, y - 2, 7, 9);
    return data.some((value, at) => at % 4 === 3 && value > 40);
  });
  return { seen: seen.length, planted: spikes.length };
};
