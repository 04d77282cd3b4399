import { adjustStanding, lastAdjustment } from '../answers/adjustStanding.ts';
import type { Answer } from '../answers/answer.ts';
import { comparableRecords, comparedAnswer, compareTwo, pairOf } from '../answers/compareTwo.ts';
import { garageAnswer, ownedOf } from '../answers/garageAnswer.ts';
import { patchStanding } from '../answers/patchStanding.ts';
import { scrutineeringAnswer } from '../answers/scrutineeringAnswer.ts';
import { seasonStanding } from '../answers/seasonStanding.ts';
import { walkSeen } from '../answers/walkSeen.ts';
import type { BenchState } from '../contract/events.ts';
import type { Capture } from '../contract/records.ts';
import type { Standing, Standings } from '../contract/standings.ts';
import { dayOfTime } from '../format/day.ts';
import { boardSources, wishedOf } from '../scrutineering/boardSources.ts';
import { authoritiesKept, pairsKept } from '../scrutineering/keptScrutineering.ts';
import { limitedItems } from '../scrutineering/limitedItems.ts';
import { marginBoard } from '../scrutineering/marginBoard.ts';
import { capturesNamed, sheetsKept } from '../sheet/keptRecords.ts';
import { studiedScatter } from '../sheet/loweringsKept.ts';
import type { Memory } from './memory.ts';
import type { SeasonRecords } from './seasonRecords.ts';
import type { BenchWorkings } from './workings.ts';

/** What the standings are made from. */
type Sources = Pick<
  BenchWorkings,
  'book' | 'memory' | 'season' | 'capturesById' | 'gravity' | 'state'
>;

/** Made again only of other things. Nobody asked for a mark on the rail: one that fails is not known. */
const remembered = <A extends readonly unknown[]>(
  make: (...of: A) => Answer,
): ((...of: A) => Standing | null) => {
  let made: { readonly of: A; readonly standing: Standing | null } | null = null;
  return (...of) => {
    if (made?.of.every((each, index) => Object.is(each, of[index]))) return made.standing;
    let standing: Standing | null = null;
    try {
      const { tone, text } = make(...of);
      standing = { tone, text };
    } catch {
      standing = null;
    }
    made = { of, standing };
    return standing;
  };
};

const mapOf = (captures: readonly Capture[]): ReadonlyMap<string, Capture> =>
  new Map(captures.map((capture) => [capture.id, capture]));

/** How the answers of the screens stand, as those screens open. Those made of the season wait for it. */
export const createStandings = (bench: Sources): (() => Standings) => {
  const { book, memory, season } = bench;
  type Car = Memory['car'];
  type Settings = Memory['settings'];
  type Captures = Memory['captures'];
  type Records = ReturnType<SeasonRecords['all']>;

  const patch = remembered(
    (_kept: number, car: Car, captures: Captures, g: number, settings: Settings) =>
      patchStanding({
        on: { car, captures: [...captures], gravity: g, settings },
        surveys: book.all('patch survey'),
      }),
  );
  const adjust = remembered(
    (
      adjustment: ReturnType<typeof lastAdjustment>,
      car: Car,
      massUnit: Settings['massUnit'],
    ): Answer =>
      adjustStanding({
        car,
        adjustment: adjustment && !adjustment.adjustment.isOver ? adjustment.adjustment : null,
        massUnit,
      }),
  );
  const measure = remembered((records: Records, car: Car) => {
    const newest = records.findLast(
      ({ sources: { record } }) => record.carId === car.id && !record.setAside,
    );
    return walkSeen({
      car,
      sheets: sheetsKept(book.all('sheet')).filter(({ carId }) => carId === car.id),
      record: newest?.sources.record ?? null,
      sheet: newest?.sheet ?? null,
      sources: newest?.sources ?? null,
    }).answer;
  });
  const compare = remembered(
    (records: Records, car: Car, _captures: Captures, g: number, settings: Settings) => {
      const all = records.map(({ sources }) => sources.record);
      const pair = pairOf(comparableRecords(all, car.id), { beforeId: null, afterId: null });
      // Read again: a zero may have been checked since, or a capture set aside.
      const captures = mapOf(
        bench.capturesById(
          [pair.before, pair.after].flatMap((each) => (each ? capturesNamed(each) : [])),
        ),
      );
      const lowerings = book.all('lowering');
      const lowered = mapOf(bench.capturesById(lowerings.map(({ captureId }) => captureId)));
      return comparedAnswer(
        compareTwo(
          {
            car,
            gravity: g,
            settings,
            records: all,
            sheets: sheetsKept(book.all('sheet')),
            sourcesOf: ({ id }) => {
              const found = records.find(({ sources }) => sources.record.id === id);
              return found ? { ...found.sources, captures } : null;
            },
            scatter: studiedScatter(car, lowerings, (id) => lowered.get(id) ?? null),
            adjustments: book.all('adjustment'),
            surveys: book.all('patch survey'),
            massChecks: book.all('mass check'),
          },
          pair,
        ),
      );
    },
  );
  const scrutineering = remembered(
    (records: Records, car: Car, captures: Captures, settings: Settings, day: number) => {
      const authorities = authoritiesKept(book.all('authority'));
      const chosen = authorities[0] ?? null;
      const sources = boardSources({
        on: { car, captures: [...captures], settings },
        records: records.map((each) => each.sources),
        authorities,
        pairs: pairsKept(book.all('pair')),
        chosen,
        day,
      });
      const items = limitedItems(sources).map(({ limited }) => limited);
      return scrutineeringAnswer(marginBoard(items, wishedOf(chosen)));
    },
  );
  const trace = remembered((records: Records, car: Car, massUnit: Settings['massUnit']) =>
    seasonStanding({ car, records, massUnit }),
  );
  const garage = remembered((now: BenchState) =>
    garageAnswer(
      now,
      ownedOf({
        gauges: book.all('gauge'),
        plates: book.all('plates'),
        authorities: book.all('authority'),
      }),
    ),
  );

  return () => {
    const { car, captures, settings } = memory;
    const { massUnit } = settings;
    const now = bench.state();
    const g = bench.gravity();
    const records = season.isReadAhead() ? season.all() : null;
    return {
      patch: patch(book.kept, car, captures, g, settings),
      adjust: adjust(lastAdjustment(book.all('adjustment'), car.id), car, massUnit),
      measure: records && measure(records, car),
      compare: records && compare(records, car, captures, g, settings),
      scrutineering:
        records && scrutineering(records, car, captures, settings, dayOfTime(now.wallAt)),
      season: records && trace(records, car, massUnit),
      garage: garage(now),
    };
  };
};
