import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  deviceLine,
  headerLine,
  notificationLine,
  parseRecording,
  type RecordedDevice,
} from '../../../drivers/pads/transport/recording.ts';

const HEADER = '{"format":"millpond-recording","version":1}';
const DEVICE =
  '{"device":0,"key":"k0","name":"Pad","services":["181d"],"signal":-60,"characteristics":[' +
  '{"service":"180a","uuid":"2a25","canRead":true,"canWrite":false,"canNotify":false,"value":"4d50"},' +
  '{"service":"181d","uuid":"2a9d","canRead":false,"canWrite":false,"canNotify":true}]}';
const WEIGHT = '[12.5,0,"181d","2a9d","00b036"]';

test('what the format says is what is read', () => {
  const parsed = parseRecording([HEADER, '', DEVICE, WEIGHT, ''].join('\r\n'));
  expect(parsed).toEqual({
    ok: true,
    recording: {
      devices: [
        {
          key: 'k0',
          name: 'Pad',
          services: ['181d'],
          signal: -60,
          characteristics: [
            {
              service: '180a',
              uuid: '2a25',
              canRead: true,
              canWrite: false,
              canNotify: false,
              value: Uint8Array.of(0x4d, 0x50),
            },
            {
              service: '181d',
              uuid: '2a9d',
              canRead: false,
              canWrite: false,
              canNotify: true,
              value: null,
            },
          ],
        },
      ],
      notifications: [
        { ms: 12.5, device: 0, service: '181d', uuid: '2a9d', bytes: Uint8Array.of(0, 0xb0, 0x36) },
      ],
    },
  });
});

describe('what is damaged is said with its line', () => {
  const cases: readonly (readonly [string, readonly string[], number, string])[] = [
    ['empty', [''], 1, 'it is empty'],
    ['another format', ['{"format":"other","version":1}'], 1, 'not a Millpond recording'],
    [
      'a newer version',
      ['{"format":"millpond-recording","version":2}'],
      1,
      'version 2; 1 can be read',
    ],
    ['no device', [HEADER], 1, 'no device is in it'],
    ['not JSON in the middle', [HEADER, '{oops', DEVICE], 2, 'not JSON'],
    ['not JSON at the start', ['{oops'], 1, 'not JSON'],
    [
      'a device out of turn',
      [HEADER, DEVICE.replace('"device":0', '"device":1')],
      2,
      'device 1 where 0 comes next',
    ],
    [
      'a key twice',
      [HEADER, DEVICE, DEVICE.replace('"device":0', '"device":1')],
      3,
      'key k0 comes twice',
    ],
    [
      'a UUID with dashes',
      [HEADER, DEVICE.replaceAll('181d', '0000-181d')],
      2,
      'not a UUID of 4 or 32 lower-case hex digits',
    ],
    [
      'an unknown device',
      [HEADER, DEVICE, WEIGHT.replace(',0,', ',1,')],
      3,
      'device 1 was not described before',
    ],
    ['a notification too early', [HEADER, WEIGHT, DEVICE], 2, 'device 0 was not described before'],
    [
      'another characteristic',
      [HEADER, DEVICE, WEIGHT.replace('2a9d', '2a98')],
      3,
      'device 0 does not notify 2a98',
    ],
    [
      'time that goes back',
      [HEADER, DEVICE, WEIGHT, WEIGHT.replace('12.5', '12')],
      4,
      'time goes back from 12.5 to 12 ms',
    ],
    [
      'a negative time',
      [HEADER, DEVICE, WEIGHT.replace('12.5', '-1')],
      3,
      'the time is not a number of ms',
    ],
    [
      'half a byte',
      [HEADER, DEVICE, WEIGHT.replace('00b036', '00b03')],
      3,
      'not bytes in lower-case hex',
    ],
    ['too few items', [HEADER, DEVICE, '[1,0]'], 3, '2 items; a notification has 5'],
    ['a number for a line', [HEADER, DEVICE, '7'], 3, 'a device is not an object'],
  ];
  test.each(cases)('%s', (_name, lines, line, why) => {
    expect(parseRecording(lines.join('\n'))).toEqual({ ok: false, line, why });
  });
});

test('a recording that was cut off in its last line is what is before it', () => {
  const whole = parseRecording([HEADER, DEVICE, WEIGHT].join('\n'));
  const cut = parseRecording([HEADER, DEVICE, WEIGHT, '[13.1,0,"181d","2a'].join('\n'));
  expect(cut).toEqual(whole);
});

const uuid = fc.constantFrom('2a25', '2a9d', '8f1d00016b0e4c529a375d1c2e7f40b6');
const device: fc.Arbitrary<RecordedDevice> = fc.record({
  key: fc.uuid(),
  name: fc.string(),
  services: fc.array(uuid, { maxLength: 3 }),
  signal: fc.option(fc.integer({ min: -127, max: 20 })),
  characteristics: fc.array(
    fc.record({
      service: uuid,
      uuid,
      canRead: fc.boolean(),
      canWrite: fc.boolean(),
      canNotify: fc.boolean(),
      value: fc.option(fc.uint8Array({ maxLength: 20 })),
    }),
    { maxLength: 4 },
  ),
});

test('property: written then read is identity', () => {
  fc.assert(
    fc.property(
      fc.uniqueArray(device, { minLength: 1, maxLength: 4, selector: ({ key }) => key }),
      fc.array(fc.tuple(fc.nat(100_000), fc.nat(), fc.nat(), fc.uint8Array({ maxLength: 20 }))),
      (devices, raw) => {
        const places = devices.flatMap((one, number) =>
          one.characteristics
            .filter(({ canNotify }) => canNotify)
            .map((has) => ({ device: number, service: has.service, uuid: has.uuid })),
        );
        const notifications = raw
          .toSorted((a, b) => a[0] - b[0])
          .flatMap(([us, which, , bytes]) => {
            const place = places[which % Math.max(1, places.length)];
            return place ? [{ ms: us / 1000, ...place, bytes }] : [];
          });
        const text = [
          headerLine(),
          ...devices.map((one, number) => deviceLine(number, one)),
          ...notifications.map(notificationLine),
        ].join('\n');
        expect(parseRecording(text)).toEqual({ ok: true, recording: { devices, notifications } });
      },
    ),
    { seed: 31 },
  );
});

test('property: any text is parsed or refused with a line, never a throw', () => {
  const line = fc.oneof(fc.constantFrom(HEADER, DEVICE, WEIGHT), fc.json(), fc.string());
  fc.assert(
    fc.property(fc.array(line, { maxLength: 8 }), (lines) => {
      const parsed = parseRecording(lines.join('\n'));
      if (!parsed.ok) expect(parsed.line).toBeGreaterThanOrEqual(1);
    }),
    { seed: 32, numRuns: 500 },
  );
});

test.each([
  ['an endless time', [DEVICE, '[1e309,0,"181d","2a9d",""]'], 3, 'the time is not a number of ms'],
  [
    'a time without microseconds',
    [DEVICE, '[1e16,0,"181d","2a9d",""]'],
    3,
    'the time is not a number of ms',
  ],
  ['an endless signal', [DEVICE.replace('-60', '-1e309')], 2, 'signal is not a number'],
])(
  'a number that JSON says and a double does not keep is refused: %s',
  (_what, lines, line, why) => {
    expect(parseRecording([HEADER, ...lines].join('\n'))).toEqual({ ok: false, line, why });
  },
);

test.each([
  ['the version', ['{"format":"millpond-recording","version":{"toString":1}}']],
  ['a device', [HEADER, '{"device":{"toString":1,"valueOf":2}}']],
  ['a notification’s device', [HEADER, DEVICE, '[1,{"toString":1},"181d","2a9d",""]']],
])('what cannot be made a text of is refused with its line: %s', (_what, lines) => {
  expect(parseRecording(lines.join('\n'))).toMatchObject({ ok: false, line: lines.length });
});
