import { expect, test } from 'vitest';
import type { KeptOf } from '../../../core/contract/kept.ts';
import { newAuthority } from '../../../core/scrutineering/keptScrutineering.ts';
import { theirReadings } from '../../../core/scrutineering/theirReadings.ts';

const kept = { practice: false, at: 0 } as const;
const authority = (subject: string, name: string, isAside = false): KeptOf<'authority'> => ({
  ...kept,
  kind: 'authority',
  id: `kept ${subject}`,
  subject,
  authority: newAuthority(name),
  isAside,
});
const pair = (
  id: string,
  theirs: number,
  change: Partial<KeptOf<'pair'>['pair']> = {},
  isAside = false,
): KeptOf<'pair'> => ({
  ...kept,
  kind: 'pair',
  id: `kept ${id} ${theirs}`,
  subject: 'trophy',
  pair: {
    id,
    item: 'total',
    carId: 'heron',
    event: 'round 1',
    label: 'Larkfell',
    day: 20_000,
    ours: 1302,
    theirs,
    gravity: null,
    states: {
      ours: { seatMass: null, fuelMass: null, tyres: null },
      theirs: { seatMass: null, fuelMass: null, tyres: null },
    },
    ...change,
  },
  isAside,
});
const asked = { item: 'total', carId: 'heron' } as const;

test('what they read, in order of days; the newest telling counts', () => {
  const readings = theirReadings({
    authorities: [authority('trophy', 'Meridian Trophy')],
    pairs: [
      pair('b', 1305, { day: 20_007 }),
      pair('none', 1306, { day: null }),
      pair('a', 1399),
      pair('a', 1304),
    ],
    ...asked,
  });
  expect(readings.map(({ pairId, day, value }) => [pairId, day, value])).toEqual([
    ['a', 20_000, 1304],
    ['b', 20_007, 1305],
    ['none', null, 1306],
  ]);
  expect(readings[0]).toMatchObject({ authorityName: 'Meridian Trophy', event: 'round 1' });
});

test('no other item, no other car, nothing that is set aside', () => {
  const pairs = [
    pair('a', 1304),
    pair('camber', -0.05, { item: 'camber.LF' }),
    pair('other car', 1290, { carId: 'grebe' }),
    pair('aside', 1400, {}, true),
  ];
  const of = (change: Partial<Parameters<typeof theirReadings>[0]>) =>
    theirReadings({
      authorities: [authority('trophy', 'Meridian Trophy')],
      pairs,
      ...asked,
      ...change,
    }).map(({ pairId }) => pairId);
  expect(of({})).toEqual(['a']);
  expect(of({ carId: null })).toEqual(['a', 'other car']);
  expect(of({ authorities: [authority('trophy', 'Meridian Trophy', true)] })).toEqual([]);
});
