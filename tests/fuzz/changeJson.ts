import type { Random } from '../../drivers/pads/rig/random.ts';
import { changeText, type Change } from './changes.ts';
import { below, oneIn, pick } from './target.ts';

/**
 * Changes of JSON by its structure: keys dropped, added, copied from elsewhere; values of another
 * type, numbers at the ends of their range, long texts, deep nests, names of the language's own. It
 * works on the value and writes by hand where JavaScript would hide it: −0, `__proto__`, one key twice.
 */

/** Numbers as text, for JSON may say what a double does not keep. */
const NUMBERS = [
  ...['0', '-0', '1', '-1', '0.1', '-0.5', '1e308', '-1e308', '1e309', '-1e309', '5e-324'],
  ...['9007199254740993', '4294967296', '2147483648', '-2147483649', '65536', '1e21', '1e-7'],
];
const KEYS = ['__proto__', 'constructor', 'prototype', 'toString', 'length', 'then', '', '0'];
const TEXTS = ['', ' ', '\u0000', '\ud800', '\u202e', '1', 'null', '=1+1', '../..', 'a\nb', '💥'];
const LITERALS = ['null', 'true', 'false', '[]', '{}', '[null]', '{"a":1}'];

/** JSON taken apart without losing anything: an object is its pairs, a number its text. */
type Node =
  | { readonly is: 'leaf'; readonly text: string }
  | { readonly is: 'list'; readonly items: Node[] }
  | { readonly is: 'object'; readonly pairs: (readonly [string, Node])[] };

const leaf = (text: string): Node => ({ is: 'leaf', text });

const takeApart = (value: unknown): Node => {
  if (Array.isArray(value)) return { is: 'list', items: value.map(takeApart) };
  if (typeof value === 'object' && value !== null)
    return {
      is: 'object',
      pairs: Object.entries(value).map(([key, inner]) => [key, takeApart(inner)] as const),
    };
  return leaf(Object.is(value, -0) ? '-0' : JSON.stringify(value));
};

const written = (node: Node): string => {
  if (node.is === 'leaf') return node.text;
  if (node.is === 'list') return `[${node.items.map(written).join(',')}]`;
  return `{${node.pairs.map(([key, inner]) => `${JSON.stringify(key)}:${written(inner)}`).join(',')}}`;
};

/** Every node inside, with the one that holds it. */
const places = (root: Node): { readonly parent: Node; readonly index: number }[] => {
  const found: { parent: Node; index: number }[] = [];
  const look = (parent: Node): void => {
    const inner =
      parent.is === 'list'
        ? parent.items
        : parent.is === 'object'
          ? parent.pairs.map(([, n]) => n)
          : [];
    inner.forEach((node, index) => {
      found.push({ parent, index });
      look(node);
    });
  };
  look(root);
  return found;
};

const randomLeaf = (random: Random): Node => {
  switch (below(random, 6)) {
    case 0:
      return leaf(JSON.stringify(pick(random, TEXTS)));
    case 1:
      return leaf(pick(random, LITERALS));
    case 2:
      return leaf(JSON.stringify('x'.repeat(1 << below(random, 13))));
    case 3:
      return leaf('['.repeat(60) + ']'.repeat(60));
    default:
      return leaf(pick(random, NUMBERS));
  }
};

const near = (random: Random, node: Node): Node => {
  const value = node.is === 'leaf' ? (JSON.parse(node.text) as unknown) : null;
  if (typeof value !== 'number' || oneIn(random, 2)) return randomLeaf(random);
  const factor = pick(random, [-1, 0.5, 2, 10, 1000, 1e-3, 1 + random.uniform()]);
  return leaf(String(Number.isFinite(value * factor) ? value * factor : 0));
};

const copied = (node: Node): Node => {
  if (node.is === 'leaf') return node;
  if (node.is === 'list') return { is: 'list', items: node.items.map(copied) };
  return { is: 'object', pairs: node.pairs.map(([key, inner]) => [key, copied(inner)] as const) };
};

/** Puts a copy there: nothing may come to be inside itself. */
const put = (parent: Node, index: number, node: Node): void => {
  const copy = copied(node);
  if (parent.is === 'list') parent.items[index] = copy;
  else if (parent.is === 'object') {
    const pair = parent.pairs[index];
    if (pair) parent.pairs[index] = [pair[0], copy];
  }
};

const at = (parent: Node, index: number): Node =>
  (parent.is === 'list'
    ? parent.items[index]
    : parent.is === 'object'
      ? parent.pairs[index]?.[1]
      : null) ?? leaf('null');

const changeOnce = (random: Random, root: Node, other: () => Node | null): void => {
  const found = places(root);
  if (found.length === 0) return;
  const { parent, index } = pick(random, found);
  switch (below(random, 7)) {
    case 0:
    case 1:
      return put(parent, index, near(random, at(parent, index)));
    case 2:
      if (parent.is === 'list') parent.items.splice(index, 1);
      else if (parent.is === 'object') parent.pairs.splice(index, 1);
      return;
    case 3:
      if (parent.is === 'list') parent.items.splice(index, 0, copied(at(parent, index)));
      else if (parent.is === 'object')
        parent.pairs.splice(index, 0, [pick(random, KEYS), randomLeaf(random)]);
      return;
    case 4: {
      const elsewhere = places(other() ?? root);
      if (elsewhere.length === 0) return;
      const from = pick(random, elsewhere);
      return put(parent, index, at(from.parent, from.index));
    }
    case 5:
      if (parent.is === 'object') {
        const pair = parent.pairs[index];
        if (pair) parent.pairs[index] = [pick(random, KEYS), pair[1]];
      } else if (parent.is === 'list') parent.items.reverse();
      return;
    default: {
      const twin = pick(random, found);
      const kept = at(parent, index);
      put(parent, index, at(twin.parent, twin.index));
      put(twin.parent, twin.index, kept);
    }
  }
};

const parsed = (text: string): Node | null => {
  try {
    return takeApart(JSON.parse(text));
  } catch {
    return null;
  }
};

const changeAsText = changeText([
  '{',
  '}',
  '[',
  ']',
  ',',
  ':',
  '"',
  'null',
  '-',
  'e308',
  '\\u0000',
]);

/** Changes the structure; one time in eight, and where the text is no JSON, the text. */
export const changeJson: Change<string> = (random, input, other) => {
  const root = oneIn(random, 8) ? null : parsed(input);
  if (!root) return changeAsText(random, input, other);
  do changeOnce(random, root, () => parsed(other));
  while (oneIn(random, 3));
  return written(root);
};
