import { useState, type ReactElement } from 'react';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { EXAMPLE_SHEET } from '../../../core/sheet/exampleSheet.ts';
import { copySheet, emptySheet, type SetUpSheet } from '../../../core/sheet/setUpSheet.ts';
import { wallClock } from '../../clockShown.ts';
import { newId } from '../../newId.ts';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { PrintButtons } from './PrintButtons.tsx';
import { RecordsFile } from './RecordsFile.tsx';
import { SheetChanges } from './SheetChanges.tsx';
import { SheetHead } from './SheetHead.tsx';
import { SheetTable } from './SheetTable.tsx';
import type { Measure } from './useMeasure.ts';
import styles from './Screen.module.css';

/** No sheet yet: what one is for, and how to get one. */
const NoSheet = ({
  measure,
  onMade,
}: {
  readonly measure: Measure;
  readonly onMade: (sheet: SetUpSheet) => void;
}): ReactElement => {
  const { car, who, state } = measure;
  const labels = () => ({ id: newId(), lineageId: newId(), writtenAt: wallClock(), who });
  return (
    <section className={styles['part']} aria-label="No sheet">
      <h2>{car.name} has no set-up sheet</h2>
      <p className={styles['help']}>
        A sheet says what the car shall be: a target and a tolerance for everything that is
        measured, and the state in which it is measured. Versions are kept; a released one is never
        changed.
      </p>
      <div className={styles['buttons']}>
        {car.id === EXAMPLE_CAR.id ? (
          <PushButton onPress={() => onMade({ ...EXAMPLE_SHEET, ...labels() })}>
            Take the example sheet
          </PushButton>
        ) : null}
        <PushButton
          look="main"
          onPress={() =>
            onMade(
              emptySheet(car, {
                ...labels(),
                name: 'Set-up',
                cross: car.details?.cross ?? state.settings.cross,
              }),
            )
          }
        >
          Write a sheet
        </PushButton>
      </div>
    </section>
  );
};

/** The sheet that is open: which version, what disagrees, its lines. */
const OneSheet = ({
  measure,
  sheet,
  onChoose,
  onMade,
}: {
  readonly measure: Measure;
  readonly sheet: SetUpSheet;
  readonly onChoose: (sheetId: string) => void;
  readonly onMade: (sheet: SetUpSheet) => void;
}): ReactElement => {
  const { sheets, car, who, state } = measure;
  const newestNumber = Math.max(
    ...sheets.filter(({ lineageId }) => lineageId === sheet.lineageId).map(({ number }) => number),
  );
  return (
    <>
      <section className={styles['bar']} aria-label="Sheet">
        <Pick
          label="Sheet"
          options={sheets.toReversed().map(({ id, name, number, released }) => ({
            value: id,
            text: `${name} no. ${number}${released ? ', released' : ''}`,
          }))}
          value={sheet.id}
          onChange={onChoose}
        />
        <PrintButtons what={{ is: 'sheet', lineageId: sheet.lineageId, sheetId: sheet.id }} />
        <PushButton
          small
          onPress={() =>
            onMade(copySheet(sheet, { id: newId(), writtenAt: wallClock(), who, newestNumber }))
          }
        >
          Copy to no. {newestNumber + 1}
        </PushButton>
        <PushButton
          small
          look="quiet"
          onPress={() =>
            onMade(
              emptySheet(car, {
                id: newId(),
                lineageId: newId(),
                writtenAt: wallClock(),
                who,
                name: 'Set-up',
                cross: car.details?.cross ?? state.settings.cross,
              }),
            )
          }
        >
          New sheet
        </PushButton>
      </section>
      <SheetChanges measure={measure} sheet={sheet} />
      <SheetTable measure={measure} sheet={sheet} key={sheet.id} />
      <SheetHead measure={measure} sheet={sheet} key={`${sheet.id} head`} />
    </>
  );
};

/** The set-up sheet: what the car shall be. */
export const SheetPart = ({ measure }: { readonly measure: Measure }): ReactElement => {
  const { sheets } = measure;
  const [chosen, setChosen] = useState<string | null>(null);
  const sheet = sheets.find(({ id }) => id === chosen) ?? measure.sheet ?? sheets.at(-1) ?? null;
  const made = (next: SetUpSheet): void => {
    measure.keepSheet(next);
    setChosen(next.id);
  };
  return (
    <>
      {sheet ? (
        <OneSheet measure={measure} sheet={sheet} onChoose={setChosen} onMade={made} />
      ) : (
        <NoSheet measure={measure} onMade={made} />
      )}
      <RecordsFile measure={measure} />
    </>
  );
};
