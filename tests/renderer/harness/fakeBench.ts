import type { Frame } from '../../../core/contract/events.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { encodePush, requestSchema, type Push } from '../../../core/contract/messages.ts';
import { CORNERS, type Corner } from '../../../core/corners.ts';

/** What the fake bench says: a state, and a frame made at each tick. */
export interface Scene {
  readonly state: BenchState;
  readonly frame: (t: number, no: number) => Frame;
  /** Stops sending frames after so many seconds; null never. */
  readonly silentAfter: number | null;
}

const RATE = 80;
/** A lowering car: a damped swing about the resting load, as a share of it. */
const swing = (t: number): number =>
  t < 2 ? 0 : 1 - Math.exp(-(t - 2) * 1.1) * Math.cos((t - 2) * 9);

/** Noise that is the same at each run: a sum of sines that no eye tells from one. */
const noise = (t: number, corner: Corner): number => {
  const k = CORNERS.indexOf(corner) + 1;
  return 0.03 * (Math.sin(t * 311.7 * k) + Math.sin(t * 173.3 + k) + Math.sin(t * 97.1 * k));
};

/** The trace of a corner between two times, as a lowering 12 s before `end` gives it. */
export const tracePoints = (
  corner: Corner,
  resting: number,
  span: { readonly from: number; readonly to: number; readonly start: number },
): { readonly t: number[]; readonly kg: number[] } => {
  const t: number[] = [];
  const kg: number[] = [];
  for (let index = Math.ceil(span.from * RATE); index / RATE < span.to; index += 1) {
    const at = index / RATE;
    t.push(at);
    kg.push(resting * swing(at - span.start) + noise(at, corner));
  }
  return { t, kg };
};

/**
 * Plays a scene to one screen over any channel of text: greets, sends frames with one in flight, and
 * answers each command through `obey`. Answers the function that stops it.
 */
export const playScene = (
  scene: Scene,
  channel: {
    readonly send: (text: string) => void;
    readonly received: (take: (text: string) => void) => void;
    readonly obey?: (command: unknown) => Push | null;
  },
): (() => void) => {
  const started = performance.now() / 1000;
  let no = 0;
  let inFlight = false;
  let greeted = false;
  const push = (each: Push): void => channel.send(encodePush(each));
  channel.received((text) => {
    const request = requestSchema.parse(JSON.parse(text));
    if (request.kind === 'hello') {
      greeted = true;
      push({ kind: 'state', state: scene.state });
    } else if (request.kind === 'frame taken') inFlight = false;
    else if (request.kind === 'command')
      push(
        channel.obey?.({ n: request.n, ...request.command }) ?? {
          kind: 'done',
          n: request.n,
          result: { is: 'done' },
        },
      );
  });
  const timer = setInterval(() => {
    const t = performance.now() / 1000 - started;
    if (!greeted || inFlight) return;
    if (scene.silentAfter !== null && t > scene.silentAfter) return;
    inFlight = true;
    no += 1;
    push({ kind: 'frame', frame: scene.frame(t + 100, no) });
  }, 1000 / 60);
  return () => clearInterval(timer);
};
