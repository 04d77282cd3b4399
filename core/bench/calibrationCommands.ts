import { appliedMass } from '../calibration/appliedMass.ts';
import { transferReference, referenceForce } from '../calibration/transfer.ts';
import { isForUse, refusalsOf, withReason } from '../calibration/useRecord.ts';
import type { TakenPoint } from '../contract/calibrationRecord.ts';
import type { Measured } from '../measured.ts';
import { DONE, refuse, stored, type Handlers } from './answering.ts';
import type { Draft } from './calibrating.ts';
import { meanCounts } from './meanCounts.ts';
import { forcesElsewhere, massSets, placeHere, zeroOnePad } from './padCommands.ts';
import { readPad, type PadRead } from './readPad.ts';
import type { Answer } from './screens.ts';
import type { BenchWorkings } from './workings.ts';

/** What the commands of a guided calibration do. */

const NONE_AT_WORK = refuse('No calibration is at work.', 'Begin one, or resume one.');

/** A pad took the load when its force rose by more than half of what was put on. */
const TOOK_IT = 0.5;
/** A pad did not take it when its force rose by less than this much of it. */
const DID_NOT = 0.1;

/** The pad on which the load appeared instead; null where it came where it was meant to. */
const risenElsewhere = (
  bench: BenchWorkings,
  draft: Draft,
  { feed, counts, massIds }: PadRead & { readonly massIds: readonly string[] },
): string | null => {
  const last = draft.points.findLast(({ undone }) => !undone);
  const { masses, place } = draft.begun;
  if (!last || !masses || !feed.calibration) return null;
  const massOf = (ids: readonly string[]): number =>
    appliedMass(masses.masses.filter(({ id }) => ids.includes(id))).value;
  const expected = (massOf(massIds) - massOf(last.massIds)) * place.gravity;
  if (expected === 0) return null;
  const perCount = feed.calibration.coefficients[0] ?? 0;
  const came = perCount * (counts.value - last.counts.value);
  if (came / expected > DID_NOT) return null;
  const others = forcesElsewhere(bench.feeds(), { padSerial: feed.serial, t: bench.now() });
  const took = others.find(({ padSerial, force }) => {
    const before = draft.elsewhere.get(padSerial);
    return before !== undefined && (force - before) / expected > TOOK_IT;
  });
  return took?.padSerial ?? null;
};

type Reference =
  | { readonly ok: true; readonly force: Measured | null }
  | { readonly ok: false; readonly answer: Answer };

/** The force by the pad in series, over its zero: the newest point at which nothing was pressed. */
const referenceNow = (
  bench: BenchWorkings,
  draft: Draft,
  about: PadRead & { readonly isEmpty: boolean },
): Reference => {
  const { reference } = draft.begun;
  if (!reference) return { ok: true, force: null };
  const feed = bench.feedOf(reference.padSerial);
  const mean = feed && meanCounts(feed, about.window);
  const used = bench.calibrations.find(reference.padSerial, reference.calibrationId);
  const calibration = used && bench.calibrations.inUse(reference.padSerial)?.calibration;
  if (!feed || !mean || !calibration)
    return {
      ok: false,
      answer: refuse(
        `${reference.padSerial} was not heard over this window.`,
        'Both pads must be live; wait and take the point again.',
      ),
    };
  const counts = { value: mean.mean, u: mean.u, dof: mean.dof };
  const zero = about.isEmpty ? counts : bench.referenceZero.get(draft.begun.id);
  if (!zero)
    return {
      ok: false,
      answer: refuse(
        'The pad in series has no zero yet.',
        'Take all pressure off both pads and take a point with nothing on.',
      ),
    };
  if (about.isEmpty) bench.referenceZero.set(draft.begun.id, counts);
  return { ok: true, force: referenceForce(calibration, zero, counts) };
};

const keepPoint = (bench: BenchWorkings, draft: Draft, point: TakenPoint): Answer =>
  stored(
    bench.book.keep({
      kind: 'calibration point',
      subject: draft.begun.id,
      point,
      elsewhere: forcesElsewhere(bench.feeds(), {
        padSerial: draft.begun.subject,
        t: bench.now(),
      }),
    }),
  );

export const CALIBRATION_HANDLERS: Handlers<
  | 'begin calibration'
  | 'work at calibration'
  | 'take point'
  | 'undo point'
  | 'give up calibration'
  | 'finish calibration'
  | 'use calibration'
> = {
  'begin calibration': (bench, { padSerial, massSetId, referenceSerial, against }) => {
    const feed = bench.feedOf(padSerial);
    if (!feed) return refuse(`Nothing heard from ${padSerial} yet.`, 'Switch it on.');
    const masses = massSets(bench).find(({ id }) => id === massSetId) ?? null;
    if ((massSetId === null) === (referenceSerial === null) || (massSetId !== null && !masses))
      return refuse(
        'What it is calibrated with is missing.',
        'Choose a set of masses, or another pad to stack on it.',
      );
    let reference = null;
    if (referenceSerial !== null) {
      const calibration = bench.feedOf(referenceSerial)?.calibration;
      if (!calibration)
        return refuse(`Nothing heard from ${referenceSerial} yet.`, 'Switch it on.');
      const found = transferReference({ serial: referenceSerial, calibration, of: padSerial });
      if (!found.ok) return refuse(found.why, found.next);
      reference = found.reference;
    }
    const rating = feed.status?.rating ?? null;
    const outcome = bench.book.keep({
      kind: 'calibration begun',
      subject: padSerial,
      masses,
      reference,
      against,
      place: placeHere(bench),
      rating: rating && {
        ratedLoad: rating.ratedLoad,
        countsAtRatedLoad: rating.countsAtRatedLoad,
      },
    });
    if (!outcome.ok) return stored(outcome);
    bench.calibrating.workAt(bench.book.of('calibration begun', padSerial).at(-1)?.id ?? null);
    bench.watch.watch(padSerial);
    return DONE;
  },

  'work at calibration': (bench, { id }) => {
    const draft = bench.calibrating.unfinished().find(({ begun }) => begun.id === id);
    if (id !== null && !draft)
      return refuse('This calibration is not open any more.', 'Begin another.');
    bench.calibrating.workAt(id);
    bench.watch.watch(draft?.begun.subject ?? null);
    return DONE;
  },

  'take point': (bench, { massIds, isEmpty, isReadAgain }) => {
    const draft = bench.calibrating.now;
    if (!draft) return NONE_AT_WORK;
    const { begun, points } = draft;
    const unknown = massIds.find((id) => !begun.masses?.masses.some((mass) => mass.id === id));
    if (unknown !== undefined)
      return refuse('A mass that is not in the set was chosen.', 'Choose from the set.');
    if (begun.masses && isEmpty !== (massIds.length === 0))
      return refuse(
        'It is not said what stands on the pad.',
        'Choose the masses on it, or say that nothing is.',
      );
    const read = readPad(bench, begun.subject);
    if (!read.ok) return read.answer;
    const reference = referenceNow(bench, draft, { ...read.read, isEmpty });
    if (!reference.ok) return reference.answer;
    const { counts, flags, feed } = read.read;
    if (isEmpty) {
      const zeroed = zeroOnePad(bench, read.read);
      if (!zeroed.ok) return zeroed;
    }
    return keepPoint(bench, draft, {
      number: points.length + 1,
      padSerial: feed.serial,
      at: Math.max(0, (bench.wallClock() - begun.at) / 1000),
      massIds: [...massIds],
      reference: reference.force,
      counts,
      flags,
      temperature: feed.status?.temperature ?? null,
      placedAnew: !isReadAgain,
      risenElsewhere: risenElsewhere(bench, draft, { ...read.read, massIds }),
      undone: false,
    });
  },

  'undo point': (bench) => {
    const draft = bench.calibrating.now;
    if (!draft) return NONE_AT_WORK;
    const last = draft.points.findLast(({ undone }) => !undone);
    if (!last) return refuse('There is no point to undo.', 'Take one.');
    return keepPoint(bench, draft, { ...last, undone: true });
  },

  'give up calibration': (bench) => {
    const draft = bench.calibrating.now;
    if (!draft) return NONE_AT_WORK;
    const outcome = bench.book.keep({
      kind: 'calibration ended',
      subject: draft.begun.id,
      how: 'given up',
    });
    if (outcome.ok) bench.calibrating.workAt(null);
    return stored(outcome);
  },

  'finish calibration': (bench, { reason }) => {
    const draft = bench.calibrating.now;
    if (!draft) return NONE_AT_WORK;
    const padSerial = draft.begun.subject;
    const made = bench.calibrating.record({
      id: bench.newId(),
      replaces: bench.calibrations.of(padSerial)[0]?.id ?? null,
      madeAt: bench.wallClock(),
    });
    if (!made?.coefficients)
      return refuse(
        'No curve can be made of these points yet.',
        'Take a point with nothing on and at least one with load.',
      );
    const [against] = refusalsOf(made);
    if (against && reason === null)
      return refuse(
        `Not for use: ${against.what}`,
        'Write beside it why it is used all the same, or take more points.',
      );
    const record = against && reason !== null ? (withReason(made, reason) ?? made) : made;
    const kept = bench.calibrations.add(record);
    if (!kept.ok) return stored(kept);
    const ended = bench.book.keep({
      kind: 'calibration ended',
      subject: draft.begun.id,
      how: 'finished',
    });
    const isUsed = isForUse(record);
    const chosen = isUsed ? bench.calibrations.use(padSerial, record.id) : ended;
    if (!ended.ok || !chosen.ok) return stored(ended.ok ? chosen : ended);
    bench.calibrating.workAt(null);
    bench.startAnew();
    return { ok: true, result: { is: 'calibrated', record, isUsed } };
  },

  'use calibration': (bench, { padSerial, calibrationId, reason }) => {
    let record = calibrationId === null ? null : bench.calibrations.find(padSerial, calibrationId);
    if (calibrationId !== null && !record)
      return refuse('This calibration is not in the records.', 'Choose one from the list.');
    if (record && !isForUse(record)) {
      const [against] = refusalsOf(record);
      const reasoned = reason === null ? null : withReason(record, reason);
      if (!reasoned)
        return refuse(
          against ? `Not for use: ${against.what}` : 'It has no curve.',
          'Write beside it why it is used all the same, or calibrate again.',
        );
      record = {
        ...reasoned,
        id: bench.newId(),
        replaces: record.id,
        madeAt: record.madeAt,
      };
      const kept = bench.calibrations.add(record);
      if (!kept.ok) return stored(kept);
    }
    const outcome = bench.calibrations.use(padSerial, record?.id ?? null);
    bench.startAnew();
    return stored(outcome);
  },
};
