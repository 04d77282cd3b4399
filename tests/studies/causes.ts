import type { CauseKind } from '../../core/compare/causes/cause.ts';
import { plantPairs, plantSingles, studiedUnchanged, type Tally } from './causesPlanted.ts';
import type { Study } from './study.ts';

/** For people: size of one unit of a kind, in the unit that it is shown in. */
const SHOWN: Readonly<Record<CauseKind, readonly [number, string]>> = {
  strut: [1e3, 'mm at the wheel'],
  bar: [1, 'kg at each wheel'],
  twist: [1e3, 'mm out of plane'],
  mass: [1, 'kg'],
  'mass along': [1, 'kg m'],
  'mass across': [1, 'kg m'],
  'ballast moved': [1, 'kg'],
  'pad height': [1e3, 'mm'],
  wheel: [1e3, 'mm'],
  'wheels exchanged': [1e3, 'mm'],
  pad: [1, 'kg'],
  'toe link': [180 / Math.PI, '°'],
  'camber shim': [180 / Math.PI, '°'],
  'height point': [1e3, 'mm'],
};

const percent = ({ held, of }: Tally): string =>
  `${held} of ${of}, ${((100 * held) / of).toFixed(1)} %`;

const run: Study['run'] = (share, say) => {
  const found = plantSingles(Math.ceil(1000 * share));
  say(`unchanged: nothing moved ${percent(found.unchanged)} (wanted 95 %)`);
  for (const dof of [5, 10, 20])
    say(
      `  with the scatter known from ${dof + 1} lowerings: ${percent(studiedUnchanged(Math.ceil(600 * share), dof))}`,
    );
  say(`above the discriminable size: right class first ${percent(found.above)} (wanted 95 %)`);
  const tied = found.tied.toSorted((a, b) => a - b);
  say(`below it: tied set holds the truth ${percent(found.below)} (wanted 95 %)`);
  say(`  classes tied there, median ${tied[Math.floor(tied.length / 2)] ?? 0}`);
  say('discriminable sizes: 10 %, median, 90 % of the cars');
  for (const [kind, sizes] of found.sizes) {
    const [factor, unit] = SHOWN[kind];
    const known = sizes.filter((size) => size !== null).toSorted((a, b) => a - b);
    const at = (q: number): string =>
      ((known[Math.floor(q * (known.length - 1))] ?? Number.NaN) * factor).toPrecision(2);
    const never = sizes.length - known.length;
    say(
      `  ${kind.padEnd(17)}${at(0.1)} / ${at(0.5)} / ${at(0.9)} ${unit}${never > 0 ? `; never in ${never} of ${sizes.length}` : ''}`,
    );
  }
  say('confusion above the size: planted: first (cars)');
  for (const [kind, row] of found.confusion)
    say(
      `  ${kind.padEnd(17)}${[...row]
        .toSorted((a, b) => b[1] - a[1])
        .map(([first, cars]) => `${first} ${cars}`)
        .join(', ')}`,
    );
  const pairs = plantPairs(Math.ceil(1000 * share));
  say(
    `two causes, over 4.2 u outside: no single cause or the right pair ${percent(pairs.outside)} (wanted 90 %), the pair itself ${pairs.rightPair}`,
  );
  say(`  of these 4.2 to 6 u: ${percent(pairs.near)}`);
  say(
    `two causes, less: tied set holds one of them or what explains them ${percent(pairs.inside)}`,
  );
};

export const study: Study = {
  name: 'causes',
  about: 'one and two causes planted in seeded cars: is the right class first, or in the tied set?',
  run,
};
