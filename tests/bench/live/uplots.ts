import uPlot from 'uplot';
import { CORNERS } from '../../../core/corners.ts';
import type { FrameLoop } from '../../../renderer/live/frameLoop.ts';
import type { LiveFrames } from '../../../renderer/live/liveFrames.ts';
import { SIZE, SPAN } from './scene.ts';

/** The reference: the same four traces by a canvas library known for its speed, all points given to it. */
export interface UPlots {
  readonly plots: readonly uPlot[];
  commits(): number;
}

const RANGE: [number, number] = [280, 360];

export const createUPlots = (element: HTMLElement, live: LiveFrames, loop: FrameLoop): UPlots => {
  let commits = 0;
  const plots = CORNERS.map(
    () =>
      new uPlot(
        {
          ...SIZE,
          cursor: { show: false },
          legend: { show: false },
          series: [{}, { stroke: '#0072b2', width: 1.5, points: { show: false } }],
          scales: { x: { time: false, auto: false }, y: { auto: false, range: RANGE } },
          hooks: { draw: [() => void (commits += 1)] },
        },
        [[], []],
        element,
      ),
  );
  const drawn = CORNERS.map(() => -1);
  loop.add(() => {
    const now = live.hostNow();
    if (now === null) return;
    for (const [index, corner] of CORNERS.entries()) {
      const ring = live.rings[corner];
      const end = ring.written();
      drawn[index] = end;
      const t: number[] = [];
      const kg: (number | null)[] = [];
      for (let at = ring.oldest(); at < end; at += 1) {
        const time = ring.timeAt(at);
        if (time < now - SPAN) continue;
        t.push(time - now);
        const mass = ring.massAt(at);
        kg.push(Number.isNaN(mass) ? null : mass);
      }
      const plot = plots[index];
      if (!plot) continue;
      plot.setData([t, kg], false);
      plot.setScale('x', { min: -SPAN, max: 0 });
    }
  });
  return { plots, commits: () => commits };
};
