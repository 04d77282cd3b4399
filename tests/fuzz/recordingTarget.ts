import {
  deviceLine,
  headerLine,
  notificationLine,
  parseRecording,
} from '../../drivers/pads/transport/recording.ts';
import { changeJson } from './changeJson.ts';
import { changeText, type Change } from './changes.ts';
import { below, must, oneIn, pick, type Target } from './target.ts';

/** Recordings: what is read is written again as the same recording. */

const DEVICE = deviceLine(0, {
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
      value: Uint8Array.of(77, 80),
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
});
const SECOND = DEVICE.replace('"device":0', '"device":1')
  .replace('k0', 'k1')
  .replace('-60', 'null');
const NOTIFICATIONS = ['[12.5,0,"181d","2a9d","00b036"]', '[13,0,"181d","2a9d",""]'];
const SEEDS = [
  [headerLine(), DEVICE, ...NOTIFICATIONS],
  [headerLine(), '', DEVICE, SECOND, '[1,1,"181d","2a9d","00"]', '[1,0,"181d","2a9d","00'],
].map((lines) => lines.join('\n'));

const changeAsText = changeText([
  '\n',
  '[',
  ',',
  '"181d"',
  '"2a9d"',
  '1e309',
  '-0',
  '\u2028',
  '\r\n',
]);

const changeLines: Change<string> = (random, input, other) => {
  if (oneIn(random, 8)) return changeAsText(random, input, other);
  const lines = input.split('\n');
  const at = below(random, lines.length);
  const line = lines[at] ?? '';
  const from = pick(random, other.split('\n'));
  switch (below(random, 8)) {
    case 0:
      lines.splice(at, 1);
      break;
    case 1:
      lines.splice(at, 0, from);
      break;
    case 2:
      lines.push(line);
      break;
    default:
      lines[at] = changeJson(random, line, from);
  }
  return lines.join('\n');
};

export const recordings: Target<string> = {
  name: 'recordings',
  kind: 'text',
  files: ['pads/transport/recording.ts'],
  seeds: SEEDS,
  longest: 20_000,
  change: changeLines,
  run: (text) => {
    const read = parseRecording(text);
    if (!read.ok) {
      must(read.why !== '' && read.line >= 1, 'refused without a word or a place');
      return false;
    }
    const { devices, notifications } = read.recording;
    let last = 0;
    for (const { ms, device } of notifications) {
      must(Number.isFinite(ms) && ms >= last, `a time that is none: ${ms}`);
      must(devices[device] !== undefined, 'a device that was not described');
      last = ms;
    }
    for (const { signal } of devices)
      must(signal === null || Number.isFinite(signal), `a signal that is none: ${signal}`);
    const lines = [
      headerLine(),
      ...devices.map((one, k) => deviceLine(k, one)),
      ...notifications.map(notificationLine),
    ];
    const again = parseRecording(lines.join('\n'));
    must(again.ok, 'written again it cannot be read');
    if (!again.ok) return true;
    must(JSON.stringify(again.recording.devices) === JSON.stringify(devices), 'other devices');
    must(again.recording.notifications.length === notifications.length, 'other notifications');
    for (const [k, one] of notifications.entries()) {
      const twin = again.recording.notifications[k];
      must(
        twin !== undefined &&
          Math.abs(twin.ms - one.ms) <= 0.001 &&
          Buffer.compare(twin.bytes, one.bytes) === 0,
        'another time or other bytes',
      );
    }
    return true;
  },
};
