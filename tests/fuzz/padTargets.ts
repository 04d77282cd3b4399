import { SAMPLE_FLAGS } from '../../core/reading.ts';
import {
  decodeCommand,
  decodeLoads,
  decodeRating,
  encodeCommand,
  encodeLoads,
  encodeRating,
} from '../../drivers/pads/protocol/cornerPad.ts';
import type { Decoded } from '../../drivers/pads/protocol/model.ts';
import {
  decodeBattery,
  decodeTemperature,
  decodeText,
  encodeBattery,
  encodeTemperature,
} from '../../drivers/pads/protocol/standard.ts';
import {
  decodeWeightMeasurement,
  decodeWeightPacket,
  encodeWeightMeasurement,
} from '../../drivers/pads/protocol/weightScale.ts';
import { changeBytes } from './changes.ts';
import { must, type Target } from './target.ts';

/** The codecs that are written by hand: what they accept is sent again as the very same bytes. */

const ALL_FLAGS = Object.values(SAMPLE_FLAGS).reduce((all, flag) => all | flag, 0);
/** The longest refusal that a person is shown, characters: two lines. */
const LONGEST_WHY = 240;

const same = (one: Uint8Array, other: Uint8Array): boolean => Buffer.compare(one, other) === 0;

/** What holds for any packet, whoever sent it. `most` is the longest payload's number of samples. */
export const lookAtPacket = (decoded: Decoded, most: number): void => {
  if (!decoded.ok) {
    must(decoded.why !== '' && decoded.why.length <= LONGEST_WHY, 'the refusal is one line');
    return;
  }
  const { counts, flags, rate, sequence, clockMs } = decoded.packet;
  must(counts.length >= 1 && counts.length <= most, 'so many samples cannot be in it');
  must(
    counts.every((count) => Number.isInteger(count) && Math.abs(count) <= 0x7fffffff),
    'a count is no whole number of 32 bits',
  );
  must((flags & ~ALL_FLAGS) === 0, 'a flag that does not exist');
  must(rate === null || (Number.isFinite(rate) && rate > 0), 'no rate');
  must(sequence === null || (sequence >= 0 && sequence <= 0xffff), 'no sequence number');
  must(clockMs === null || (clockMs >= 0 && clockMs <= 0xffffffff), 'no clock');
};

const cornerPad: Target<Uint8Array> = {
  name: 'corner pad',
  kind: 'bytes',
  files: ['pads/protocol/cornerPad.ts'],
  seeds: [
    encodeLoads({ sequence: 1, clockMs: 1000, rate: 80, counts: [-1, 0, 8_388_607], flags: 0 }),
    encodeLoads({
      sequence: 65535,
      clockMs: 2 ** 32 - 1,
      rate: 10,
      counts: [-8_388_608],
      flags: 15,
    }),
    encodeRating({ ratedLoad: 680.4, countsAtRatedLoad: 2_000_000, resolution: 1 }),
    encodeCommand({ do: 'set rate', rate: 80 }),
    encodeCommand({ do: 'identify', seconds: 5 }),
    encodeCommand({ do: 'reset clock' }),
  ],
  longest: 40,
  change: changeBytes,
  run: (bytes) => {
    const loads = decodeLoads(bytes);
    lookAtPacket(loads, 4);
    if (loads.ok) must(same(encodeLoads(loads.packet), bytes), 'loads: not the same bytes again');
    const rating = decodeRating(bytes);
    if (rating) {
      const sent = encodeRating(rating);
      sent[1] = bytes[1] ?? 0;
      must(same(sent, bytes), 'rating: not the same bytes again');
      must(rating.ratedLoad > 0 && rating.countsAtRatedLoad > 0, 'rating: not above zero');
    }
    const command = decodeCommand(bytes);
    if (command) must(same(encodeCommand(command), bytes), 'command: not the same bytes again');
    return loads.ok || rating !== null || command !== null;
  },
};

const weightScale: Target<Uint8Array> = {
  name: 'weight scale',
  kind: 'bytes',
  files: ['pads/protocol/weightScale.ts'],
  seeds: [
    Uint8Array.of(0, 0xb0, 0x36),
    Uint8Array.of(1, 0xff, 0xff),
    Uint8Array.of(0x0e, 0x10, 0x27, 0xea, 7, 11, 25, 21, 8, 3, 7, 250, 0, 0x20, 0x07),
    Uint8Array.of(0x0f, 0x10, 0x27, 0, 0, 0, 0, 0, 0, 0, 255, 250, 0, 0x20, 0x02),
  ],
  longest: 40,
  change: changeBytes,
  run: (bytes) => {
    const packet = decodeWeightPacket(bytes);
    lookAtPacket(packet, 1);
    const weight = decodeWeightMeasurement(bytes);
    must(weight.ok === packet.ok, 'the measurement and the packet do not agree');
    if (!weight.ok || !packet.ok) return false;
    must(same(encodeWeightMeasurement(weight.measurement), bytes), 'not the same bytes again');
    must(weight.measurement.weight >= 0, 'a weight below zero');
    must((packet.packet.counts[0] ?? -1) >= 0, 'a count below zero');
    must(
      weight.measurement.overload === ((packet.packet.flags & SAMPLE_FLAGS.overload) !== 0),
      'overload is lost',
    );
    return true;
  },
};

const standard: Target<Uint8Array> = {
  name: 'standard services',
  kind: 'bytes',
  files: ['pads/protocol/standard.ts'],
  seeds: [
    Buffer.from('MP-0001\0'),
    Buffer.from(' 1.4.2 é😀 '),
    encodeBattery(87),
    encodeTemperature(21.37),
    encodeTemperature(null),
  ],
  longest: 600,
  change: changeBytes,
  run: (bytes) => {
    const text = decodeText(bytes);
    if (text !== null) {
      must(text !== '' && text.trim() === text && text.length <= 512, 'blanks, or too long');
      must(!/\p{C}/u.test(text), 'a character that cannot be seen');
      must(decodeText(Buffer.from(text)) === text, 'text: not the same again');
    }
    const battery = decodeBattery(bytes);
    if (battery !== null) must(same(encodeBattery(battery), bytes), 'battery: not the same again');
    const celsius = decodeTemperature(bytes);
    if (celsius !== null) {
      must(same(encodeTemperature(celsius), bytes), 'temperature: not the same bytes again');
      must(celsius >= -273.15, 'colder than cold');
    }
    return text !== null || battery !== null || celsius !== null;
  },
};

export const PAD_TARGETS: readonly Target<Uint8Array>[] = [cornerPad, weightScale, standard];
