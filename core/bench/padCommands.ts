import { appliedMass } from '../calibration/appliedMass.ts';
import { toForce } from '../calibration/calibration.ts';
import { checkMass } from '../calibration/checkMass.ts';
import { curvePart } from '../calibration/useRecord.ts';
import { EXAMPLE_MASS_SET, type MassSet, type ReferenceMass } from '../sheet/massSet.ts';
import type { PadDescriptionPort } from './ports.ts';
import { DONE, refuse, stored, type Handlers } from './answering.ts';
import { feedForce, isLive, type PadFeed } from './padFeed.ts';
import { padHistory } from './padHistory.ts';
import { readPad, type PadRead } from './readPad.ts';
import type { Answer } from './screens.ts';
import type { BenchWorkings } from './workings.ts';
import { takeZeros } from './zeroing.ts';

/** What the commands about one pad do: masses, zero, check, off-centre test, description. */

/** Smallest relative change of a span worth acting on: 0.15 kg at 300 kg; common practice, no source. */
const SPAN_LIMIT = 5e-4;

/** The sets to choose from; the practice rig brings an invented one. */
export const massSets = ({ book, memory }: Pick<BenchWorkings, 'book' | 'memory'>): MassSet[] => {
  const kept = book.newest('mass set');
  const owned = kept.filter(({ isAside }) => !isAside).map(({ set }) => set);
  const isExampleKept = kept.some(({ subject }) => subject === EXAMPLE_MASS_SET.id);
  return memory.outing.practice && !isExampleKept ? [...owned, EXAMPLE_MASS_SET] : owned;
};

/** Where the bench stands, as records name it. */
export const placeHere = (bench: BenchWorkings) => ({
  venueId: bench.memory.venue.id,
  name: bench.memory.venue.name,
  gravity: bench.gravity(),
});

export type MassesFound =
  | { readonly ok: true; readonly masses: readonly ReferenceMass[] }
  | { readonly ok: false; readonly answer: Answer };

const massesOf = (
  bench: BenchWorkings,
  { massSetId, massIds }: { readonly massSetId: string; readonly massIds: readonly string[] },
): MassesFound => {
  const set = massSets(bench).find(({ id }) => id === massSetId);
  if (!set)
    return { ok: false, answer: refuse('This set of masses is not known.', 'Choose another.') };
  const masses = set.masses.filter(({ id }) => massIds.includes(id));
  return masses.length === 0
    ? { ok: false, answer: refuse('No mass was chosen.', 'Say which masses stand on the pad.') }
    : { ok: true, masses };
};

type Over = PadRead & { readonly force: { value: number; u: number; dof: number } };
type OverOutcome =
  { readonly ok: true; readonly over: Over } | { readonly ok: false; readonly answer: Answer };

/** The settled reading of a pad as a force over its zero. */
const readOverZero = (bench: BenchWorkings, padSerial: string): OverOutcome => {
  const read = readPad(bench, padSerial);
  if (!read.ok) return read;
  const { feed, counts } = read.read;
  const { zero, calibration } = feed;
  if (!calibration || !zero)
    return {
      ok: false,
      answer: refuse(`${padSerial} has no zero.`, 'Take everything off it and press Zero.'),
    };
  const perCount = Math.abs(
    toForce(calibration, zero.counts, counts.value + 1) -
      toForce(calibration, zero.counts, counts.value),
  );
  return {
    ok: true,
    over: {
      ...read.read,
      force: {
        value: toForce(calibration, zero.counts, counts.value),
        u: perCount * Math.hypot(counts.u, zero.u),
        dof: Math.min(counts.dof, zero.dof),
      },
    },
  };
};

/** Newest forces on the pads other than this one, N. */
export const forcesElsewhere = (
  feeds: ReadonlyMap<string, PadFeed>,
  about: { readonly padSerial: string; readonly t: number },
): { padSerial: string; force: number }[] =>
  [...feeds.values()].flatMap((feed) => {
    if (feed.serial === about.padSerial || !isLive(feed, about.t)) return [];
    const force = feedForce(feed, feed.lastSmooth);
    return force === null ? [] : [{ padSerial: feed.serial, force }];
  });

/** Keeps how a pad was when its zero was taken. */
export const keepZeroTaken = (
  bench: BenchWorkings,
  feed: PadFeed,
  zero: { readonly id: string; readonly counts: number; readonly u: number; readonly sd: number },
): void => {
  const { calibration, status } = feed;
  if (!calibration) return;
  const perCount = Math.abs(toForce(calibration, zero.counts, zero.counts + 1));
  bench.book.keep({
    kind: 'zero taken',
    subject: feed.serial,
    zeroId: zero.id,
    force: perCount * zero.counts,
    u: perCount * zero.u,
    sd: perCount * zero.sd,
    temperature: status?.temperature ?? null,
    onFor: status?.onFor ?? null,
  });
};

/** Takes the zero of one pad from its settled reading. */
export const zeroOnePad = (bench: BenchWorkings, { feed, window, sd }: PadRead): Answer => {
  const taken = takeZeros({ only: feed }, window, {
    takenAt: bench.wallClock(),
    newId: bench.newId,
  });
  if (!taken.ok) return taken;
  const outcome = bench.memory.addZeros([taken.zeros.only]);
  if (!outcome.ok) return stored(outcome);
  keepZeroTaken(bench, feed, { ...taken.zeros.only, sd });
  bench.startAnew();
  return DONE;
};

export const padHandlers = (
  descriptions: PadDescriptionPort,
): Handlers<
  | 'keep mass set'
  | 'watch pad'
  | 'zero pad'
  | 'check pad'
  | 'read off centre'
  | 'open pad'
  | 'keep pad description'
  | 'try pad description'
> => ({
  'keep mass set': (bench, { set, isAside }) =>
    stored(bench.book.keep({ kind: 'mass set', subject: set.id, set, isAside })),

  'watch pad': (bench, { padSerial }) => {
    bench.watch.watch(padSerial);
    return DONE;
  },

  'zero pad': (bench, { padSerial }) => {
    const read = readPad(bench, padSerial);
    if (!read.ok) return read.answer;
    return zeroOnePad(bench, read.read);
  },

  'check pad': (bench, { padSerial, massSetId, massIds }) => {
    const chosen = massesOf(bench, { massSetId, massIds });
    if (!chosen.ok) return chosen.answer;
    const read = readOverZero(bench, padSerial);
    if (!read.ok) return read.answer;
    const { force, feed } = read.over;
    const mass = appliedMass(chosen.masses);
    const gravity = bench.gravity();
    const calibration = feed.calibration as NonNullable<typeof feed.calibration>;
    if (force.value < 0.5 * mass.value * gravity || force.value > 2.5 * mass.value * gravity)
      return refuse(
        `${padSerial} reads ${(force.value / gravity).toFixed(1)} kg, not near the ${mass.value.toFixed(1)} kg that were chosen.`,
        'Put the masses on this pad, or correct what was chosen or its unit.',
      );
    const found = checkMass({
      force,
      mass,
      gravity,
      curve: curvePart(calibration, force.value),
      limit: SPAN_LIMIT,
    });
    const { relative, uReading, difference, state } = found;
    return stored(
      bench.book.keep({
        kind: 'mass check',
        subject: padSerial,
        calibrationId: calibration.id,
        place: placeHere(bench),
        masses: chosen.masses.map(({ label }) => label),
        mass: { value: mass.value, u: mass.u },
        force,
        relative,
        uReading,
        difference,
        state,
        temperature: feed.status?.temperature ?? null,
      }),
    );
  },

  'read off centre': (bench, { padSerial, testId, place, distance, massSetId, massIds }) => {
    const chosen = massesOf(bench, { massSetId, massIds });
    if (!chosen.ok) return chosen.answer;
    const before = bench.book
      .of('off-centre reading', padSerial)
      .find((reading) => reading.testId === testId);
    const mass = appliedMass(chosen.masses).value;
    if (before && (before.mass !== mass || before.distance !== distance))
      return refuse(
        'This test was begun with another mass or distance.',
        'Go on with those, or begin another test.',
      );
    const read = readOverZero(bench, padSerial);
    if (!read.ok) return read.answer;
    const { value, u, dof } = read.over.force;
    const gravity = bench.gravity();
    return stored(
      bench.book.keep({
        kind: 'off-centre reading',
        subject: padSerial,
        testId,
        place,
        distance,
        mass,
        read: { value: value / gravity, u: u / gravity, dof },
      }),
    );
  },

  'open pad': (bench, { padSerial }) => ({
    ok: true,
    result: {
      is: 'pad opened',
      history: padHistory(padSerial, {
        book: bench.book,
        calibrations: bench.calibrations,
        unit: bench.memory.settings.massUnit,
        wallAt: bench.wallClock(),
      }),
    },
  }),

  'keep pad description': async (bench, { text, isAside }) => {
    const { problems } = descriptions.tryOn(text, null);
    const name = descriptions.nameOf(text);
    const [first] = problems;
    if (!isAside && (first || name === null))
      return refuse(
        first ? `${first.path ? `${first.path}: ` : ''}${first.what}.` : 'It has no name.',
        'Correct the description and import it again.',
      );
    const outcome = bench.book.keep({
      kind: 'pad description',
      subject: (name ?? text).slice(0, 64),
      text,
      isAside,
    });
    // Pads that were not understood before are looked at again with it.
    if (outcome.ok && bench.memory.source) await bench.openPads(bench.memory.source);
    return stored(outcome);
  },

  'try pad description': (bench, { text, hex, padSerial }) => {
    const bytes = padSerial === null ? fromHex(hex) : bench.pads().lastPayload(padSerial);
    if (padSerial !== null && !bytes)
      return refuse(`Nothing heard from ${padSerial} yet.`, 'Wait for it, or type the bytes.');
    if (!bytes)
      return refuse(
        'These are not bytes in hexadecimal.',
        'Write two digits a byte, as in 0a 1f 00.',
      );
    const trial = descriptions.tryOn(text, bytes.length === 0 ? null : bytes);
    return { ok: true, result: { is: 'description tried', trial } };
  },
});

/** Bytes from hexadecimal digits, blanks and colons allowed; null where there is something else. */
const fromHex = (text: string): Uint8Array | null => {
  const digits = text.replace(/[\s:,]|0x/gi, '');
  if (digits.length % 2 !== 0 || /[^0-9a-f]/i.test(digits)) return null;
  return Uint8Array.from({ length: digits.length / 2 }, (_, index) =>
    Number.parseInt(digits.slice(2 * index, 2 * index + 2), 16),
  );
};
