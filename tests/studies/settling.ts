import { coverage, type Coverage, type Share } from './coverage.ts';
import { fallInto, TRAPS } from './falseSettled.ts';
import type { Study } from './study.ts';

const LOWERINGS = 2000;
const RUNS = 100;
const GRAMS = [5, 50, 300] as const;
const NEWTON_PER_GRAM = 9.80665e-3;
/** Friction of a well-kept strut at the wheel, as the practice rig has it, and of a poor one, N. */
const FRICTION = 20;
const STICKING = 60;
/** How often the bench looks, s. */
const EVERY = 0.2;

const shown = ({ held, of }: Share): string => `${((100 * held) / of).toFixed(1)} %`;
const sum = (shares: readonly Share[]): Share => ({
  held: shares.reduce((total, { held }) => total + held, 0),
  of: shares.reduce((total, { of }) => total + of, 0),
});
/** 10, 50 and 90 % of times, s; never is later than any. */
const spread = (times: readonly (number | null)[]): string => {
  const sorted = times.map((time) => time ?? Infinity).toSorted((a, b) => a - b);
  return [0.1, 0.5, 0.9]
    .map((p) => (sorted[Math.floor(p * (sorted.length - 1))] as number).toFixed(1))
    .join('/');
};
const within = (share: Share, low: number, high: number): string => {
  const percent = (100 * share.held) / share.of;
  return `${shown(share)} of ${share.of} (${low} to ${high} %): ${percent >= low && percent <= high ? 'met' : 'MISSED'}`;
};

const line = (grams: number, found: Coverage): string =>
  `  ${grams} g: waiting ${shown(found.waiting)}, as captured at rest ${shown(found.captured)}, off by more than ` +
  `0.2 kg ${shown(found.waitingOff)}; early ${shown(found.early)}, every look ${shown(found.everyLook)}, off ` +
  `${shown(found.earlyOff)}; s from the jack's start (10/50/90 %) early ${spread(found.times.map(({ early }) => early))}, ` +
  `waiting ${spread(found.times.map(({ waiting }) => waiting))}`;

/** Seeds 1 to `count`, noises taking turns. */
const lower = (count: number, friction: number): readonly Coverage[] =>
  GRAMS.map((grams, turn) =>
    coverage(
      Array.from({ length: count }, (_, index) => index + 1).filter(
        (seed) => seed % GRAMS.length === turn,
      ),
      { noise: grams * NEWTON_PER_GRAM, friction, every: EVERY },
    ),
  );

/** Are the intervals true, and is *settled* ever false? Reduced in tests/core/signal/early/study.test.ts. */
export const study: Study = {
  name: 'settling',
  about:
    '95 % intervals of lowerings hold in 93 to 97 % (waiting) and 90 to 98 % (early); false settled below 1 %',
  run: (share, say) => {
    for (const [friction, part] of [
      [FRICTION, 1],
      [STICKING, 0.1],
    ] as const) {
      const count = Math.max(3, Math.round(LOWERINGS * share * part));
      const found = lower(count, friction);
      say(`${count} lowerings of the practice rig, friction ${friction} N a strut`);
      say(`  waiting: ${within(sum(found.map(({ waiting }) => waiting)), 93, 97)}`);
      say(`  early:   ${within(sum(found.map(({ early }) => early)), 90, 98)}`);
      GRAMS.forEach((grams, index) => say(line(grams, found[index] as Coverage)));
    }
    const runs = Math.max(2, Math.round(RUNS * share));
    say(`false settled, ${runs} runs of 16 s each, share of looks (below 1 %)`);
    TRAPS.forEach((trap, index) => {
      const { looks, waiting, early } = fallInto(trap, runs, 7000 + index);
      const part = (count: number): string =>
        `${((100 * count) / looks).toFixed(2)} % ${count < 0.01 * looks ? 'met' : 'MISSED'}`;
      say(`  ${trap.name}: waiting ${part(waiting)}, early ${part(early)}`);
    });
  },
};
