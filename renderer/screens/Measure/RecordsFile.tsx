import { useRef, useState, type ReactElement } from 'react';
import type { Command } from '../../../core/contract/commands.ts';
import type { KeptKind, KeptOf } from '../../../core/contract/kept.ts';
import { capturesNamed, recordsKept, sheetsKept } from '../../../core/sheet/keptRecords.ts';
import { readRecordsFile, type RecordsRead } from '../../../core/sheet/readRecordsFile.ts';
import { counted } from '../../../core/format/counted.ts';
import { writeRecordsFile, type Records } from '../../../core/sheet/recordsFile.ts';
import { wallClock } from '../../clockShown.ts';
import { useClient } from '../../live/useLive.tsx';
import { keepCommand } from '../../parts/keepCommand.ts';
import { PushButton } from '../../parts/PushButton.tsx';
import { saveText } from '../../saveFile.ts';
import type { Measure } from './useMeasure.ts';
import styles from './Screen.module.css';

/** More than any season needs: a larger file is not read. */
const MOST_BYTES = 200e6;

interface Said {
  readonly title: string;
  readonly read: RecordsRead | null;
  readonly isBusy: boolean;
}

/** "1 car, 2 sheets, 14 records, 9 captures". */
const contentOf = ({ cars, sheets, records, captures }: Records): string =>
  [
    counted(cars.length, 'car'),
    counted(sheets.length, 'sheet'),
    counted(records.length, 'record'),
    counted(captures.length, 'capture'),
  ].join(', ');

/** Everything that is here, as one file, and such a file read in again. */
export const RecordsFile = ({ measure }: { readonly measure: Measure }): ReactElement => {
  const client = useClient();
  const input = useRef<HTMLInputElement>(null);
  const isCancelled = useRef(false);
  const [said, setSaid] = useState<Said | null>(null);
  const { state } = measure;

  const kept = async <K extends KeptKind>(kind: K): Promise<readonly KeptOf<K>[]> => {
    const outcome = await client.command({ do: 'open kept', kind, subject: null });
    if (!outcome.ok || outcome.result.is !== 'kept') throw new Error('not read');
    return outcome.result.records.filter((each): each is KeptOf<K> => each.kind === kind);
  };
  /** All records of this world, with the captures that they name. */
  const gathered = async (): Promise<Records> => {
    const records = recordsKept(await kept('car record'), await kept('record entry'));
    const sheets = sheetsKept(await kept('sheet'));
    const ids = [
      ...new Set([...records.flatMap(capturesNamed), ...state.captures.map(({ id }) => id)]),
    ];
    const outcome = await client.command({ do: 'open captures', ids });
    const captures = outcome.ok && outcome.result.is === 'captures' ? outcome.result.captures : [];
    return { cars: state.cars, sheets, records, captures };
  };
  const failed = (): void =>
    setSaid({ title: 'The records could not be read.', read: null, isBusy: false });

  const write = async (): Promise<void> => {
    const records = await gathered();
    saveText({
      name: 'millpond-records.json',
      type: 'application/json',
      text: writeRecordsFile(records, wallClock()),
    });
    setSaid({
      title: `Saved: ${contentOf(records)}.`,
      read: null,
      isBusy: false,
    });
  };

  const take = async (file: File): Promise<void> => {
    if (file.size > MOST_BYTES) {
      setSaid({
        title: 'The file is larger than 200 MB and was not read.',
        read: null,
        isBusy: false,
      });
      return;
    }
    const read = readRecordsFile(await file.text(), await gathered());
    if (!read.ok) {
      setSaid({ title: read.why, read: null, isBusy: false });
      return;
    }
    const { cars, sheets } = read.accepted;
    // Practice and real records never mix.
    const isOurs = ({ practice }: { readonly practice: boolean }): boolean =>
      practice === (state.source !== 'bluetooth');
    const records = read.accepted.records.filter(isOurs);
    const captures = read.accepted.captures.filter(isOurs);
    const ofOtherWorld =
      read.accepted.records.length +
      read.accepted.captures.length -
      records.length -
      captures.length;
    const commands: readonly Command[] = [
      ...cars.map((car): Command => ({ do: 'use car', car })),
      ...(cars.length > 0 ? [{ do: 'use car', car: measure.car } as const] : []),
      ...captures.map((capture) =>
        keepCommand({ kind: 'capture read in', subject: capture.id, capture }),
      ),
      ...sheets.map((sheet) => keepCommand({ kind: 'sheet', subject: sheet.lineageId, sheet })),
      // A record is there with its head: one that is broken off before leaves nothing half.
      ...records.flatMap((record) => [
        ...record.entries.map((entry) =>
          keepCommand({ kind: 'record entry', subject: record.id, entry, gauge: null }),
        ),
        keepCommand({
          kind: 'car record',
          subject: record.id,
          record: { ...record, entries: [] },
        }),
      ]),
    ];
    const failures: string[] = [];
    isCancelled.current = false;
    for (const [index, command] of commands.entries()) {
      if (isCancelled.current) break;
      if (index % 20 === 0)
        setSaid({ title: `Storing ${index} of ${commands.length}.`, read: null, isBusy: true });
      const outcome = await client.command(command);
      if (!outcome.ok) failures.push(outcome.refusal.why);
    }
    setSaid({
      title: [
        isCancelled.current
          ? 'Stopped: what was stored until then stays, no record is half there.'
          : `Taken from ${file.name}: ${contentOf({ cars, sheets, records, captures })}.`,
        ...(ofOtherWorld > 0
          ? [
              `${counted(ofOtherWorld, 'record or capture is', 'records and captures are')} of the ${state.source === 'bluetooth' ? 'practice rig' : 'real pads'} and ${ofOtherWorld === 1 ? 'was' : 'were'} left out: choose these pads and read the file again.`,
            ]
          : []),
        ...(failures.length > 0 ? [`${failures.length} could not be stored: ${failures[0]}`] : []),
      ].join(' '),
      read,
      isBusy: false,
    });
  };

  return (
    <section className={styles['part']} aria-label="Records as a file">
      <h2>Records as a file</h2>
      <div className={styles['buttons']}>
        <PushButton small onPress={() => void write().catch(failed)}>
          Save all as JSON
        </PushButton>
        <PushButton small onPress={() => input.current?.click()}>
          Read a file of records
        </PushButton>
        <input
          ref={input}
          type="file"
          accept="application/json,.json"
          className="unseen"
          tabIndex={-1}
          aria-label="File of records"
          onChange={(event) => {
            const [file] = event.currentTarget.files ?? [];
            event.currentTarget.value = '';
            if (file) void take(file).catch(failed);
          }}
        />
      </div>
      {said ? (
        <div role="status" className={styles['report']}>
          <p>{said.title}</p>
          {said.isBusy ? (
            <PushButton small onPress={() => (isCancelled.current = true)}>
              Stop
            </PushButton>
          ) : null}
          {said.read?.ok && said.read.refused.length > 0 ? (
            <>
              <p>Not taken:</p>
              <ul>
                {said.read.refused.map((part) => (
                  <li key={`${part.list} ${part.place} ${part.name ?? ''}`}>
                    {part.list === 'file' ? '' : `${part.list}, no. ${part.place}`}
                    {part.name === null ? '' : ` (${part.name})`}: {part.why}
                  </li>
                ))}
              </ul>
            </>
          ) : null}
          {said.read?.ok && said.read.remarks.length > 0 ? (
            <>
              <p>Taken, and to be looked at:</p>
              <ul>
                {said.read.remarks.map(({ id, words }) => (
                  <li key={`${id} ${words}`}>{words}</li>
                ))}
              </ul>
            </>
          ) : null}
        </div>
      ) : null}
    </section>
  );
};
