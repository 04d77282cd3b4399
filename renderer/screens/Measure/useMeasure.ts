import { useMemo, useState } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import { peopleKnown } from '../../../core/garage/peopleKnown.ts';
import type { Car } from '../../../core/sheet/car.ts';
import type { CarRecord, Entry, Gauge } from '../../../core/sheet/carRecord.ts';
import { gaugesKept } from '../../../core/sheet/gaugesKnown.ts';
import type { ValueSources } from '../../../core/sheet/itemValue.ts';
import {
  capturesNamed,
  recordsKept,
  sheetsKept,
  sourcesOf,
} from '../../../core/sheet/keptRecords.ts';
import type { SetUpSheet } from '../../../core/sheet/setUpSheet.ts';
import { useCaptures } from '../../live/useCaptures.ts';
import { useKept } from '../../live/useKept.ts';
import { useTold } from '../../live/useTold.ts';
import { useToldCar } from '../../live/useToldCar.ts';
import { keepCommand } from '../../parts/keepCommand.ts';
import { useCommand, type GiveCommand } from '../../parts/useCommand.ts';

/** All that the parts of the screen are made from, and what they can keep. */
export interface Measure {
  readonly state: BenchState;
  readonly car: Car;
  /** Versions of the sheets of this car, in the order in which they were first kept. */
  readonly sheets: readonly SetUpSheet[];
  /** Records of this car without their entries, oldest first, none that is set aside. */
  readonly heads: readonly CarRecord[];
  /** The record that is open, with its entries; null before there is one. */
  readonly record: CarRecord | null;
  /** The sheet of the open record. */
  readonly sheet: SetUpSheet | null;
  readonly sources: ValueSources | null;
  /** The record before the open one. */
  readonly before: ValueSources | null;
  readonly gauges: readonly Gauge[];
  /** Who reads: stands with every reading. */
  readonly who: string;
  readonly setWho: (who: string) => void;
  /** Who was named in this record, the one before, or on a sheet. */
  readonly people: readonly string[];
  readonly open: (recordId: string) => void;
  readonly keepRecord: (record: CarRecord) => void;
  readonly keepEntry: (entry: Entry, gauge: Gauge | null) => void;
  readonly keepSheet: (sheet: SetUpSheet) => void;
  readonly keepGauge: (gauge: Gauge, isAside: boolean) => void;
  readonly keepCar: (car: Car) => void;
  readonly note: GiveCommand['note'];
  readonly give: GiveCommand['give'];
}

interface EntryTold {
  readonly id: string;
  readonly recordId: string;
  readonly entry: Entry;
  readonly gauge: Gauge | null;
}

/** What "open kept" is asked for while there is no record. */
const NO_RECORD = 'none';

const NONE: readonly never[] = [];

/** The entries of one record, as they are kept and as they were told since. */
const useEntries = (recordId: string | null) => {
  const kept = useKept('record entry', recordId ?? NO_RECORD);
  const mapped = useMemo(
    () =>
      kept?.map(({ subject, entry, gauge }): EntryTold => ({
        id: entry.id,
        recordId: subject,
        entry,
        gauge,
      })) ?? NONE,
    [kept],
  );
  const told = useTold(mapped);
  return { told, isRead: kept !== null };
};

const withEntries = (head: CarRecord, entries: readonly EntryTold[]): CarRecord => {
  const own = entries.filter(({ recordId }) => recordId === head.id);
  const gauges = new Map(head.gauges.map((gauge) => [gauge.id, gauge]));
  for (const { gauge } of own) if (gauge && !gauges.has(gauge.id)) gauges.set(gauge.id, gauge);
  return { ...head, gauges: [...gauges.values()], entries: own.map(({ entry }) => entry) };
};

/** The newest record is open, or the one named first. Null until the kept records were read. */
export const useMeasure = (state: BenchState, firstOpen: string | null): Measure | null => {
  const { note, give } = useCommand();
  const [openId, open] = useState(firstOpen);
  const [whoTyped, setWho] = useState<string | null>(null);
  const { car, keepCar } = useToldCar(state.car, give);

  const headsKept = useKept('car record');
  const sheetRecords = useKept('sheet');
  const gaugeRecords = useKept('gauge');
  const {
    all: allHeads,
    tell: tellHead,
    takeBack: takeBackHead,
  } = useTold(useMemo(() => recordsKept(headsKept ?? [], []), [headsKept]));
  const {
    all: allSheets,
    tell: tellSheet,
    takeBack: takeBackSheet,
  } = useTold(useMemo(() => sheetsKept(sheetRecords ?? []), [sheetRecords]));
  const {
    all: ownGauges,
    tell: tellGauge,
    takeBack: takeBackGauge,
  } = useTold(useMemo(() => gaugesKept(gaugeRecords ?? []), [gaugeRecords]));

  const heads = useMemo(
    () => allHeads.filter(({ carId, setAside }) => carId === car.id && !setAside),
    [allHeads, car.id],
  );
  const sheets = useMemo(
    () => allSheets.filter(({ carId }) => carId === car.id),
    [allSheets, car.id],
  );
  const head = heads.find(({ id }) => id === openId) ?? heads.at(-1) ?? null;
  const headBefore = head ? (heads[heads.indexOf(head) - 1] ?? null) : null;
  const { told: entries, isRead } = useEntries(head?.id ?? null);
  const { told: entriesBefore } = useEntries(headBefore?.id ?? null);
  const record = useMemo(() => (head ? withEntries(head, entries.all) : null), [head, entries.all]);
  const recordBefore = useMemo(
    () => (headBefore ? withEntries(headBefore, entriesBefore.all) : null),
    [headBefore, entriesBefore.all],
  );
  const captures = useCaptures(
    useMemo(
      () => [record, recordBefore].flatMap((each) => (each ? capturesNamed(each) : [])),
      [record, recordBefore],
    ),
  );
  const { cross } = state.settings;
  const [sources, before] = useMemo(() => {
    const make = (each: CarRecord | null): ValueSources | null =>
      each &&
      sourcesOf(each, {
        car,
        captures,
        cross,
        sheet: sheets.find(({ id }) => id === each.sheetId) ?? null,
      });
    return [make(record), make(recordBefore)];
  }, [record, recordBefore, car, captures, cross, sheets]);

  if (headsKept === null || sheetRecords === null || gaugeRecords === null) return null;
  if (head && !isRead) return null;
  const lastWho = record?.entries.findLast((entry) => entry.is !== 'capture');
  const keep = (command: Parameters<typeof give>[0], onRefused: () => void): void =>
    void give(command).then((result) => {
      if (!result) onRefused();
    });
  return {
    state,
    car,
    sheets,
    heads,
    record,
    sheet: sheets.find(({ id }) => id === record?.sheetId) ?? null,
    sources,
    before,
    gauges: ownGauges,
    who: whoTyped ?? lastWho?.who ?? '',
    setWho,
    people: peopleKnown({
      entries: [record, recordBefore].flatMap((each) => each?.entries ?? []),
      sheets: allSheets,
      lowerings: [],
    }).map(({ name }) => name),
    open,
    keepRecord: (next) => {
      const bare = { ...next, entries: [] };
      tellHead(bare);
      keep(keepCommand({ kind: 'car record', subject: next.id, record: bare }), () =>
        takeBackHead(next.id),
      );
    },
    keepEntry: (entry, gauge) => {
      if (!record) return;
      entries.tell({ id: entry.id, recordId: record.id, entry, gauge });
      keep(keepCommand({ kind: 'record entry', subject: record.id, entry, gauge }), () =>
        entries.takeBack(entry.id),
      );
    },
    keepSheet: (sheet) => {
      tellSheet(sheet);
      keep(keepCommand({ kind: 'sheet', subject: sheet.lineageId, sheet }), () =>
        takeBackSheet(sheet.id),
      );
    },
    keepGauge: (gauge, isAside) => {
      if (!isAside) tellGauge(gauge);
      keep(keepCommand({ kind: 'gauge', subject: gauge.id, gauge, isAside }), () =>
        takeBackGauge(gauge.id),
      );
    },
    keepCar,
    note,
    give,
  };
};
