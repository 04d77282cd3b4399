import { expect, test } from 'vitest';
import { garageAnswer, ownedOf, type Owned } from '../../../core/answers/garageAnswer.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { exampleState, examplePad } from '../../renderer/harness/scenes.ts';

const DAY_MS = 86_400_000;
const NOTHING: Owned = { gauges: 0, plates: 0, authorities: 0 };
const OWN = { ...EXAMPLE_CAR, id: 'own', name: 'Heron R3' };

const { copies } = exampleState();
const copied = { copies: { ...copies, folder: '/copies' } };
const real = (change: Partial<BenchState> = {}): BenchState =>
  exampleState({ practice: null, source: 'bluetooth', cars: [OWN], car: OWN, pads: [], ...change });

const said = (state: BenchState, owned: Partial<Owned> = {}): string => {
  const { text, tone } = garageAnswer(state, { ...NOTHING, ...owned });
  return `${tone}: ${text}`;
};

/** A pad whose span was made so many days ago and, where it says so, checked since. */
const padOfAge = (serial: string, days: number, checkedDaysAgo: number | null = null) => {
  const { wallAt } = exampleState();
  return {
    ...examplePad(null, serial),
    calibration: {
      id: 'calibration',
      kind: 'masses' as const,
      madeAt: wallAt - days * DAY_MS,
      place: { venueId: null, name: 'Larkfell', gravity: 9.81 },
      uRelative: 1e-4,
      inSpiteOf: null,
    },
    check:
      checkedDaysAgo === null
        ? null
        : { at: wallAt - checkedDaysAgo * DAY_MS, relative: 0, state: 'same' as const },
  };
};

test.each<[string, BenchState, Partial<Owned>, string]>([
  ['nothing yet', real({ ...copied, cars: [], venues: [] }), {}, 'calm: Nothing yet.'],
  [
    'only the example car',
    real({ ...copied, cars: [EXAMPLE_CAR], car: EXAMPLE_CAR }),
    {},
    'wait: The example car and 3 venues. Add your own car.',
  ],
  [
    'the example car under a name of one’s own',
    real({ ...copied, cars: [{ ...EXAMPLE_CAR, name: 'Heron R9' }], car: EXAMPLE_CAR }),
    {},
    'calm: 1 car and 3 venues.',
  ],
  [
    'practice',
    exampleState({ ...copied, pads: [examplePad('LF', 'RIG-0001')] }),
    {},
    'calm: The example car, 1 practice pad and 3 venues.',
  ],
  [
    'everything',
    real({
      ...copied,
      cars: [EXAMPLE_CAR, OWN],
      pads: [examplePad('LF', 'A'), examplePad('RF', 'B')],
      massSets: [{ id: 'set', name: 'Masses', masses: [] }],
    }),
    { gauges: 1, plates: 2, authorities: 1 },
    'calm: 2 cars, 2 pads, 1 mass set, 1 gauge, 2 sizes of plates, 1 team of scrutineers and 3 venues.',
  ],
  [
    'what is set aside does not count',
    real({
      ...copied,
      cars: [EXAMPLE_CAR, OWN],
      aside: [EXAMPLE_CAR.id, exampleState().venues[2]!.id],
    }),
    {},
    'calm: 1 car and 2 venues.',
  ],
  ['no copies', real(), {}, 'wait: 1 car and 3 venues. No copies are made: choose a folder.'],
  [
    'not copied',
    real({ copies: { ...copies, folder: '/copies', trouble: 'The folder is not there.' } }),
    {},
    'alarm: 1 car and 3 venues. The records could not be copied.',
  ],
  [
    'a span is due',
    real({ ...copied, pads: [padOfAge('MP-1', 61), padOfAge('MP-2', 44)] }),
    {},
    'wait: 1 car, 2 pads and 3 venues. MP-1 was last calibrated or checked 61 days ago: check it with a known mass.',
  ],
  [
    'an old span that was checked since holds',
    real({ ...copied, pads: [padOfAge('MP-1', 61, 3)] }),
    {},
    'calm: 1 car, 1 pad and 3 venues.',
  ],
])('%s', (_name, state, owned, expected) => {
  expect(said(state, owned)).toBe(expected);
});

test('what it is about changes with what is due, not with how long', () => {
  const about = (days: number): string =>
    garageAnswer(real({ ...copied, pads: [padOfAge('MP-1', days)] }), NOTHING).about;
  expect(about(61)).toBe(about(62));
  expect(about(61)).not.toBe(about(10));
});

test('owned is what was told last and is neither set aside nor used up', () => {
  const told = (subject: string, rest: object) => ({ subject, ...rest }) as never;
  const plate = (subject: string, count: number) =>
    told(subject, { size: { mass: Number(subject), count } });
  const authority = (subject: string, isAside: boolean) =>
    told(subject, { authority: { name: subject }, isAside });
  expect(
    ownedOf({
      gauges: [],
      plates: [plate('5', 4), plate('10', 2), plate('5', 0)],
      authorities: [authority('a', false), authority('b', false), authority('b', true)],
    }),
  ).toEqual({ gauges: 0, plates: 1, authorities: 1 });
});
