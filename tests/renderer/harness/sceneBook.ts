import type { BenchState, CornerLive, Frame } from '../../../core/contract/events.ts';
import { perCorner, type Corner } from '../../../core/corners.ts';
import { tracePoints, type Scene } from './fakeBench.ts';
import {
  EXAMPLE_MASSES,
  exampleCapture,
  exampleFrame,
  examplePad,
  exampleState,
  SERIALS,
} from './scenes.ts';

/** Each situation a screen must be able to show, by name. */

const START = 88;

const framesOf = (
  change: (t: number) => Partial<Frame>,
  corners: (corner: Corner, t: number) => Partial<CornerLive>,
): Scene['frame'] => {
  let last = START - 2;
  return (t, no) => {
    const from = last;
    last = t;
    return exampleFrame({ no, t, settledFor: t - 97, ...change(t) }, (corner) => {
      const own = corners(corner, t);
      const resting = own.status === 'absent' ? null : EXAMPLE_MASSES[corner];
      return {
        ...(resting === null ? {} : tracePoints(corner, resting, { from, to: t, start: START })),
        ...own,
      };
    });
  };
};

const settled = (): Scene['frame'] =>
  framesOf(
    () => ({}),
    () => ({}),
  );
const rough = (is: 'moving' | 'calming', t: number): Partial<Frame> => ({
  stillness: is,
  settledFor: 0,
  notReady: 'LF is still moving.',
  t,
});
const NOTHING: Partial<CornerLive> = {
  status: 'absent',
  age: null,
  mass: null,
  mean: null,
  u: null,
  stillness: null,
  zeroed: false,
};

const scene = (
  state: Partial<BenchState>,
  frame: Scene['frame'] = settled(),
  silentAfter: number | null = null,
): Scene => ({ state: exampleState(state), frame, silentAfter });

const captures = [
  exampleCapture(3, -2.31),
  { ...exampleCapture(2), setAside: true },
  exampleCapture(1),
];

export const SCENES = {
  start: () => scene({ source: null, practice: null, pads: [] }),
  settled: () => scene({ captures }),
  moving: () =>
    scene(
      {},
      framesOf(
        (t) => rough('moving', t),
        () => ({ stillness: 'moving', mean: null, u: null }),
      ),
    ),
  mixed: () =>
    scene(
      {},
      framesOf(
        (t) => rough('calming', t),
        (corner) =>
          corner === 'LF'
            ? { stillness: 'moving', mean: null, u: null }
            : corner === 'RF'
              ? { stillness: 'calming', mean: null, u: null }
              : {},
      ),
    ),
  raised: () =>
    scene(
      { captures: [exampleCapture(1)], practice: { ...exampleState().practice!, car: 'raised' } },
      framesOf(
        () => ({ balance: null, notReady: 'Nothing stands on the pads.' }),
        () => ({ mass: 0.02, mean: 0.02, t: [], kg: [] }),
      ),
    ),
  'one stale': () =>
    scene(
      { source: 'bluetooth', practice: null },
      framesOf(
        () => ({ stillness: null, settledFor: 0, balance: null, notReady: 'RF is not live.' }),
        (corner) =>
          corner === 'RF'
            ? { status: 'stale', age: 2.34, stillness: null, mean: null, u: null, t: [], kg: [] }
            : {},
      ),
    ),
  silent: () => scene({}, settled(), 2),
  overload: () =>
    scene(
      {},
      framesOf(
        () => ({ notReady: 'LR is overloaded.' }),
        (corner) => (corner === 'LR' ? { overload: true } : {}),
      ),
    ),
  'no zero': () =>
    scene(
      { zeros: perCorner(() => null) },
      framesOf(
        () => ({ balance: null, notReady: 'No zero yet.' }),
        () => ({ zeroed: false }),
      ),
    ),
  'radio off': () =>
    scene(
      {
        source: 'bluetooth',
        practice: null,
        radio: 'off',
        radioFault: { code: 'radio-off', subject: null, at: 3, detail: null },
        pads: [],
        assigned: perCorner(() => null),
      },
      framesOf(
        () => ({ balance: null, stillness: null, notReady: 'No pad for any corner.' }),
        () => NOTHING,
      ),
    ),
  'pads in trouble': () =>
    scene({
      source: 'bluetooth',
      practice: null,
      pads: [
        examplePad('LF', SERIALS.LF),
        {
          ...examplePad('RF', SERIALS.RF),
          phase: 'backing off',
          phaseSince: 88,
          signal: -88,
          rate: null,
          missing: 212,
          late: 3,
          faults: [{ code: 'pad-lost', subject: SERIALS.RF, at: 88, detail: null }],
        },
        {
          ...examplePad('LR', SERIALS.LR),
          battery: 9,
          faults: [{ code: 'pad-low-battery', subject: SERIALS.LR, at: 40, detail: null }],
        },
        examplePad(null, 'RIG-0005'),
      ],
    }),
  press: () => scene({ askingForPress: 'RF', assigned: { ...SERIALS, RF: null } }),
  night: () =>
    scene({
      captures,
      settings: {
        massUnit: 'lb',
        cornerLabels: 'FL FR RL RR',
        cross: 'RF+LR',
        theme: 'night',
        paper: 'letter',
        zeroShiftLimit: 0.2,
        copyFolder: null,
      },
    }),
} as const satisfies Record<string, () => Scene>;

export type SceneName = keyof typeof SCENES;
