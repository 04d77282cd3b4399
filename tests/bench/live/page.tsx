import './page.css';
import 'uplot/dist/uPlot.min.css';
import { useSyncExternalStore, type ReactElement } from 'react';
import { createRoot } from 'react-dom/client';
import { flushSync } from 'react-dom';
import type { Frame } from '../../../core/contract/events.ts';
import { parseWithoutEval } from '../../../core/contract/parseWithoutEval.ts';
import { CORNERS, perCorner, type Corner } from '../../../core/corners.ts';
import { findLink } from '../../../renderer/bridge.ts';
import { createBenchClient } from '../../../renderer/live/benchClient.ts';
import { createFrameLoop, windowFrames } from '../../../renderer/live/frameLoop.ts';
import { traceCommits } from '../../../renderer/plot/commits.ts';
import { LiveTraces } from '../../../renderer/plot/LiveTraces.tsx';
import { SIZE, type Measured, type Variant } from './scene.ts';
import { spikesInCanvas, spikesInPath } from './spikes.ts';
import { createUPlots } from './uplots.ts';

/**
 * One variant of the live screen: the real client, rings and frame loop, and beyond them nothing, the
 * figures, our traces or the reference's. Measured by the driver through `window.bench`.
 */

parseWithoutEval();
const variant = decodeURIComponent(location.hash.slice(1)) as Variant;
const client = createBenchClient(findLink(), windowFrames.now, (why) =>
  reportError(new Error(why)),
);
const { live } = client;
const loop = createFrameLoop(windowFrames);

let receivedAt: number[] = [];
let lastFrame: Frame | null = null;
live.subscribe(() => {
  const frame = live.get();
  if (frame && frame !== lastFrame) receivedAt.push(performance.now());
  lastFrame = frame;
});

const Figure = ({ corner }: { readonly corner: Corner }): ReactElement => {
  const mass = useSyncExternalStore(live.subscribe, () => live.get()?.corners[corner].mass ?? null);
  return <span>{mass === null ? '–' : mass.toFixed(2)}</span>;
};

const sources = perCorner((corner) => ({ ring: live.rings[corner], hostNow: live.hostNow }));

const Page = (): ReactElement => (
  <>
    {variant === 'receive only' ? null : (
      <div className="figures">
        {CORNERS.map((corner) => (
          <Figure key={corner} corner={corner} />
        ))}
      </div>
    )}
    <div className="charts" id="charts">
      {variant === 'ours' ? <LiveTraces sources={sources} loop={loop} unit="kg" {...SIZE} /> : null}
    </div>
  </>
);

const root = document.getElementById('root');
if (!root) throw new Error('no #root');
flushSync(() => createRoot(root).render(<Page />));
const reference =
  variant === 'uPlot'
    ? createUPlots(document.getElementById('charts') as HTMLElement, live, loop)
    : null;
// The loop runs in every variant, so that all of them have the same frames to miss.
loop.add(live.judge);

const commitsNow = (): number => traceCommits() + (reference?.commits() ?? 0);

/** Receipts that the paint of this animation frame shows are done when the task after it runs. */
const watchPaints = (latencies: number[], intervals: number[]): (() => void) => {
  let last = performance.now();
  let running = true;
  const channel = new MessageChannel();
  let shown: number[] = [];
  channel.port1.onmessage = () => {
    const now = performance.now();
    for (const at of shown) latencies.push(now - at);
    shown = [];
  };
  const onFrame = (now: number): void => {
    if (!running) return;
    intervals.push(now - last);
    last = now;
    shown.push(...receivedAt);
    receivedAt = [];
    channel.port2.postMessage(null);
    requestAnimationFrame(onFrame);
  };
  requestAnimationFrame(onFrame);
  return () => {
    running = false;
    channel.port1.close();
  };
};

const measure = async (seconds: number): Promise<Measured> => {
  const latencies: number[] = [];
  const intervals: number[] = [];
  const longTasks: number[] = [];
  const observer = new PerformanceObserver((list) => {
    for (const entry of list.getEntries()) longTasks.push(entry.duration);
  });
  observer.observe({ entryTypes: ['longtask'] });
  receivedAt = [];
  const commitsBefore = commitsNow();
  const began = performance.now();
  const stop = watchPaints(latencies, intervals);
  await new Promise((resolve) => setTimeout(resolve, seconds * 1000));
  stop();
  observer.disconnect();
  const commits = commitsNow() - commitsBefore;
  const elapsed = (performance.now() - began) / 1000;
  const seen = CORNERS.map((corner, index) => {
    if (variant === 'ours') return spikesInPath(index, live.rings[corner], live.hostNow());
    if (reference) return spikesInCanvas(reference.plots[index] ?? null, live.rings[corner]);
    return { seen: 0, planted: 0 };
  });
  return {
    intervals: intervals.slice(1),
    latencies,
    commits,
    longTasks,
    seconds: elapsed,
    spikesSeen: seen.reduce((sum, each) => sum + each.seen, 0),
    spikesPlanted: seen.reduce((sum, each) => sum + each.planted, 0),
  };
};

window.bench = { measure };
