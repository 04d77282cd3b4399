import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Packet } from '../../../drivers/pads/protocol/model.ts';
import { createStreamWatch, type Watched } from '../../../drivers/pads/streamWatch.ts';

const RATE = 80;

/** The packet whose first sample is number `n` of a pad whose clock began at `clock0` ms. */
const packetAt = (n: number, options: Partial<Packet> & { clock0?: number } = {}): Packet => {
  const { clock0 = 0, ...rest } = options;
  return {
    sequence: n & 0xffff,
    clockMs: Math.round(clock0 + (n * 1000) / RATE) >>> 0,
    rate: RATE,
    counts: [n, n + 1, n + 2, n + 3],
    flags: 0,
    ...rest,
  };
};

const arrival = (n: number): number => 100 + (n + 4) / RATE;

/** What came of it, short. */
const brief = (watched: readonly Watched[]): readonly string[] =>
  watched.map((one) => {
    switch (one.kind) {
      case 'samples':
        return `samples ${one.index}+${one.packet.counts.length - one.from}`;
      case 'gap':
        return `gap ${one.missing ?? '?'} ${one.reason}`;
      default:
        return `${one.kind} ${one.samples}`;
    }
  });

const feed = (packets: readonly (readonly [Packet, number])[]): readonly string[] => {
  const watch = createStreamWatch();
  return packets.flatMap(([packet, at]) => brief(watch.take(packet, at)));
};

const inTime = (n: number): readonly [Packet, number] => [packetAt(n), arrival(n)];

describe('numbers of a stream', () => {
  test('in order; a hole is counted', () => {
    expect(feed([inTime(100), inTime(104), inTime(116)])).toEqual([
      'samples 0+4',
      'samples 4+4',
      'gap 8 lost',
      'samples 16+4',
    ]);
  });

  test('over the wrap of number and clock', () => {
    const clock0 = 2 ** 32 - (65_534 * 1000) / RATE - 25;
    const at = (n: number) => [packetAt(n, { clock0 }), arrival(n)] as const;
    const watch = createStreamWatch();
    const seen = [65_530, 65_534, 65_538, 65_542].flatMap((n) => watch.take(...at(n)));
    expect(brief(seen)).toEqual(['samples 0+4', 'samples 4+4', 'samples 8+4', 'samples 12+4']);
    const clocks = seen.flatMap((one) => (one.kind === 'samples' ? [one.clockMs ?? 0] : []));
    expect(clocks.map((clock) => clock - (clocks[0] ?? 0))).toEqual([0, 50, 100, 150]);
  });

  test('twice is a duplicate, too late is late, and late twice is a duplicate', () => {
    const late = [packetAt(4), arrival(12)] as const;
    expect(feed([inTime(0), inTime(0), inTime(8), late, late])).toEqual([
      'samples 0+4',
      'duplicate 4',
      'gap 4 lost',
      'samples 8+4',
      'late 4',
      'duplicate 4',
    ]);
  });

  test('a packet that overlaps gives its new samples only', () => {
    expect(feed([inTime(0), inTime(2)])).toEqual(['samples 0+4', 'duplicate 2', 'samples 4+2']);
  });

  test('a break of 20 minutes: the clock says how often the number wrapped', () => {
    const watch = createStreamWatch();
    watch.take(...inTime(0));
    watch.linkLost();
    expect(brief(watch.take(...inTime(96_000)))).toEqual(['gap 95996 link', 'samples 96000+4']);
  });
});

describe('a stream that began again', () => {
  const restart = (n: number, flags: number) =>
    [{ ...packetAt(n, { clock0: 30 }), flags }, arrival(5000 + n)] as const;

  test('said by the pad', () => {
    expect(feed([inTime(4990), restart(0, 8), restart(4, 0)])).toEqual([
      'samples 0+4',
      'gap ? restarted',
      'samples 5+4',
      'samples 9+4',
    ]);
  });

  test('not said, but the clock cannot be older than the silence', () => {
    expect(feed([inTime(4990), restart(4, 0), restart(8, 0)])).toEqual([
      'samples 0+4',
      'gap ? restarted',
      'samples 5+4',
      'samples 9+4',
    ]);
  });

  test('its first notification twice is no second restart', () => {
    expect(feed([inTime(4990), restart(0, 8), restart(0, 8)]).at(-1)).toBe('duplicate 4');
  });

  test('the very first notification is no hole', () => {
    expect(feed([restart(0, 8)])).toEqual(['samples 0+4']);
  });

  test('only the clock was reset: numbers go on without a hole, on a new epoch', () => {
    const reset = (n: number) => [packetAt(n, { clock0: -50 }), arrival(n)] as const;
    const watch = createStreamWatch();
    watch.take(packetAt(0, { clock0: 1_000_000 }), arrival(0));
    expect(brief(watch.take(...reset(4)))).toEqual([]);
    const seen = watch.take(...reset(8));
    expect(brief(seen)).toEqual(['samples 4+4', 'samples 8+4']);
    expect(seen[0]).toMatchObject({ epoch: 1, clockMs: 0 });
  });
});

describe('what cannot be', () => {
  test('one stray packet is left out, and the stream goes on', () => {
    const stray = [packetAt(4, { clockMs: 9_000_000 }), arrival(4)] as const;
    expect(feed([inTime(0), stray, inTime(8)])).toEqual([
      'samples 0+4',
      'impossible 4',
      'gap 4 lost',
      'samples 8+4',
    ]);
  });

  test('a jump that stays is followed, as an impossible one', () => {
    const jumped = (n: number) => [packetAt(n, { clock0: 9_000_000 }), arrival(n)] as const;
    expect(feed([inTime(0), jumped(4), jumped(8)])).toEqual([
      'samples 0+4',
      'impossible 0',
      'gap ? impossible',
      'samples 5+4',
      'samples 9+4',
    ]);
  });
});

test('a model without numbers: by arrival, a link loss is a hole of unknown size', () => {
  const watch = createStreamWatch();
  const weight: Packet = {
    sequence: null,
    clockMs: null,
    rate: null,
    counts: [70_000_000],
    flags: 0,
  };
  expect(brief(watch.take(weight, 1))).toEqual(['samples 0+1']);
  expect(brief(watch.take(weight, 1.1))).toEqual(['samples 1+1']);
  watch.linkLost();
  expect(brief(watch.take(weight, 5))).toEqual(['gap ? link', 'samples 3+1']);
});

test('property: whatever is lost, repeated or swapped, received and missing make the sent', () => {
  fc.assert(
    fc.property(
      fc.array(fc.constantFrom('pass', 'lose', 'twice', 'swap'), { minLength: 2, maxLength: 300 }),
      fc.integer({ min: 0, max: 70_000 }),
      (fates, start) => {
        const order: number[] = [];
        for (const [k, fate] of fates.entries()) {
          if (fate === 'lose') continue;
          order.push(k);
          if (fate === 'twice') order.push(k);
          const before = order.at(-2);
          if (fate === 'swap' && before !== undefined) order.splice(-2, 2, k, before);
        }
        const watch = createStreamWatch();
        const counts = { received: 0, missing: 0 };
        let next: number | null = null;
        let first: number | null = null;
        let newest = 0;
        for (const [k, place] of order.entries()) {
          const n = start + 4 * place;
          first ??= n;
          for (const one of watch.take(packetAt(n), arrival(start + 4 * k))) {
            if (one.kind === 'gap') counts.missing += one.missing ?? NaN;
            if (one.kind !== 'samples') continue;
            const size = one.packet.counts.length - one.from;
            counts.received += size;
            // The running number is the pad's own, counted from the first one heard.
            expect(one.packet.counts[one.from]).toBe(first + one.index);
            if (next !== null) expect(one.index).toBeGreaterThanOrEqual(next);
            next = one.index + size;
            newest = Math.max(newest, n + 4);
          }
        }
        if (first !== null) expect(counts.received + counts.missing).toBe(newest - first);
      },
    ),
    { seed: 7, numRuns: 300 },
  );
});
