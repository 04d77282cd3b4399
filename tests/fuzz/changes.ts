import type { Random } from '../../drivers/pads/rig/random.ts';
import { below, oneIn, pick } from './target.ts';

/** Makes one input from another, and from `other` where two are joined. */
export type Change<Input> = (random: Random, input: Input, other: Input) => Input;

/** Bytes at which decoders go wrong: signs, ends of ranges, ASCII digits and spaces. */
const EDGE_BYTES = [0, 1, 2, 3, 0x0f, 0x10, 0x20, 0x30, 0x7f, 0x80, 0xc0, 0xf0, 0xfe, 0xff];

const joined = (...parts: readonly Uint8Array[]): Uint8Array => {
  const whole = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
};

/** One change of bytes: a bit, a byte, an edge of a range, more, fewer, or the end of another. */
const changeBytesOnce: Change<Uint8Array> = (random, input, other) => {
  const at = below(random, input.length + 1);
  const end = Math.min(input.length, at + 1 + below(random, 4));
  switch (below(random, 7)) {
    case 0: {
      const changed = input.slice();
      if (at < input.length) changed[at] = (changed[at] as number) ^ (1 << below(random, 8));
      return changed;
    }
    case 1: {
      const changed = input.slice();
      if (at < input.length) changed[at] = below(random, 256);
      return changed;
    }
    case 2: {
      const changed = input.slice();
      changed.fill(pick(random, EDGE_BYTES), at, end);
      return changed;
    }
    case 3:
      return joined(
        input.subarray(0, at),
        Uint8Array.from({ length: 1 + below(random, 4) }, () => below(random, 256)),
        input.subarray(at),
      );
    case 4:
      return joined(input.subarray(0, at), input.subarray(end));
    case 5:
      return joined(input.subarray(0, at), other.subarray(below(random, other.length + 1)));
    default:
      return joined(input.subarray(0, at), input.subarray(below(random, at + 1)));
  }
};

/** One to four changes, one most often. */
const several =
  <Input>(once: Change<Input>): Change<Input> =>
  (random, input, other) => {
    let changed = input;
    do changed = once(random, changed, other);
    while (oneIn(random, 3));
    return changed;
  };

export const changeBytes: Change<Uint8Array> = several(changeBytesOnce);

/** Changes of text: characters and the words of the target's own language. */
export const changeText = (words: readonly string[]): Change<string> =>
  several((random, input, other) => {
    const at = below(random, input.length + 1);
    const end = Math.min(input.length, at + 1 + below(random, 4));
    const character = oneIn(random, 4)
      ? String.fromCharCode(below(random, 0x10000))
      : String.fromCharCode(0x20 + below(random, 0x5f));
    switch (below(random, 6)) {
      case 0:
        return input.slice(0, at) + character + input.slice(at + 1);
      case 1:
        return input.slice(0, at) + pick(random, words) + input.slice(oneIn(random, 2) ? at : end);
      case 2:
        return input.slice(0, at) + character + input.slice(at);
      case 3:
        return input.slice(0, at) + input.slice(end);
      case 4:
        return input.slice(0, at) + other.slice(below(random, other.length + 1));
      default:
        return input.slice(0, at) + input.slice(below(random, at + 1));
    }
  });
