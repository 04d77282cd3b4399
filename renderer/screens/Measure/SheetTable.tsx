import { useMemo, type ReactElement } from 'react';
import { itemGroups } from '../../../core/paper/sheet/itemGroups.ts';
import { UNITS } from '../../../core/format/unitTable.ts';
import { valueText } from '../../../core/format/valueShown.ts';
import { gaugesFor, howRead } from '../../../core/sheet/gaugesKnown.ts';
import { impossibleValue } from '../../../core/sheet/impossibleValue.ts';
import { itemsById, itemsOf, type Item } from '../../../core/sheet/items.ts';
import type { ItemKind } from '../../../core/sheet/itemKinds.ts';
import { lineOf, type SetUpSheet, type SheetLine } from '../../../core/sheet/setUpSheet.ts';
import { tiesOf } from '../../../core/sheet/ties.ts';
import { verifyTolerance, type ToleranceVerified } from '../../../core/sheet/verifyTolerance.ts';
import { useLoweringScatter } from '../../live/useLoweringScatter.ts';
import { Field } from '../../parts/Field.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { quantityField, understandOrNone } from '../../parts/understandQuantity.ts';
import { kindOptions } from './kindOptions.ts';
import type { Measure } from './useMeasure.ts';
import { wantedIn } from './wantedIn.ts';
import styles from './Screen.module.css';

/** What an empty tolerance and target mean. */
const NO_TARGET = 'to be measured, no target';
const NO_TOLERANCE = 'no tolerance';

const Verified = ({
  verified,
  say,
}: {
  readonly verified: ToleranceVerified | null;
  readonly say: (value: number) => string;
}): ReactElement => {
  if (!verified) return <span className={styles['verified']} />;
  // Why is said once, over all lines.
  if (verified.is === 'not known')
    return <span className={styles['verified']}>? whether we can verify it</span>;
  const { ok, finest, readings } = verified.verifiable;
  return (
    <span className={styles['verified']} data-ok={ok}>
      {ok
        ? `✓ verified down to ${say(finest)}`
        : `✕ not verified: ${say(finest)} is our finest${
            readings === null ? ', more readings do not help' : `; ${readings} readings would do`
          }`}
    </span>
  );
};

const Line = ({
  item,
  line,
  measure,
  sheet,
  verified,
  onChange,
  onTakeOut,
}: {
  readonly item: Item;
  readonly line: SheetLine;
  readonly measure: Measure;
  readonly sheet: SetUpSheet;
  readonly verified: ToleranceVerified | null;
  readonly onChange: (line: SheetLine) => void;
  readonly onTakeOut: () => void;
}): ReactElement => {
  const wanted = wantedIn(item, sheet, measure.state.settings);
  const say = (value: number): string => valueText(wanted, value, 0);
  if (sheet.released)
    return (
      <li className={styles['line']}>
        <span className={styles['name']}>{item.label}</span>
        <span>{line.target === null ? 'no target' : valueText(wanted, line.target)}</span>
        <span>{line.tolerance === null ? '' : valueText(wanted, line.tolerance)}</span>
      </li>
    );
  const units = UNITS[item.quantity];
  return (
    <li className={styles['line']}>
      <span className={styles['name']}>{item.label}</span>
      <Field
        label={`Target ${item.label}`}
        labelUnseen
        text={quantityField(wanted, line.target)}
        inputMode="decimal"
        understand={understandOrNone({
          ...wanted,
          none: NO_TARGET,
          refuse: (value) => impossibleValue(value, item, { field: wanted.unit }),
        })}
        onCommit={(target) => onChange({ ...line, target })}
      />
      <Field
        label={`Tolerance ${item.label}`}
        labelUnseen
        text={quantityField(wanted, line.tolerance)}
        inputMode="decimal"
        understand={understandOrNone({
          ...wanted,
          none: NO_TOLERANCE,
          refuse: (value) => (value > 0 ? null : 'Above zero: how far off is still good.'),
        })}
        onCommit={(tolerance) => onChange({ ...line, tolerance })}
      />
      {units.length > 1 ? (
        <Pick
          label={`Unit of ${item.label}`}
          labelUnseen
          options={units.map(({ unit, words }) => ({ value: unit, text: unit || words }))}
          value={wanted.unit ?? units[0]?.unit ?? null}
          onChange={(unit) => onChange({ ...line, unit })}
        />
      ) : (
        <span />
      )}
      <Verified verified={verified} say={say} />
      <PushButton small look="quiet" onPress={onTakeOut} aria-label={`Take out ${item.label}`}>
        Take out
      </PushButton>
    </li>
  );
};

/** Targets and tolerances, each with whether our own measuring can verify it. */
export const SheetTable = ({
  measure,
  sheet,
}: {
  readonly measure: Measure;
  readonly sheet: SetUpSheet;
}): ReactElement => {
  const { car, record, gauges } = measure;
  const scatter = useLoweringScatter(car);
  const all = useMemo(() => itemsOf(car, sheet.extras), [car, sheet.extras]);
  const items = useMemo(() => itemsById(all), [all]);
  const ties = useMemo(() => tiesOf(car, sheet.cross), [car, sheet.cross]);
  const own = useMemo(
    () => ({
      lowering: scatter.repeat,
      laying: scatter.laying,
      gauge: (item: Item) =>
        record
          ? (howRead(item, { record, before: null, owned: gauges, items })?.gauge ?? null)
          : (gaugesFor(item.quantity, gauges)[0] ?? null),
    }),
    [scatter, record, gauges, items],
  );
  const keepLines = (lines: readonly SheetLine[]): void =>
    measure.keepSheet({ ...sheet, lines: [...lines] });
  const open = all.filter(({ id }) => !lineOf(sheet, id));
  const add = (kind: ItemKind): void => {
    const added = open
      .filter((item) => item.kind === kind)
      .map(({ id }): SheetLine => ({ item: id, target: null, tolerance: null, unit: null }));
    const place = (id: string): number => all.findIndex((item) => item.id === id);
    keepLines([...sheet.lines, ...added].toSorted((a, b) => place(a.item) - place(b.item)));
  };
  const groups = itemGroups(all.filter(({ id }) => lineOf(sheet, id)));
  const verified = new Map(
    all.flatMap((item): [string, ToleranceVerified][] => {
      const tolerance = lineOf(sheet, item.id)?.tolerance ?? null;
      const found = verifyTolerance(item, { tolerance, sheet, items, ties, own });
      return found ? [[item.id, found]] : [];
    }),
  );
  const unknown = [
    ...new Set([...verified.values()].flatMap((each) => (each.is === 'not known' ? each.why : []))),
  ];
  return (
    <section className={styles['part']} aria-label="Items of the sheet">
      {groups.length === 0 ? (
        <p className={styles['help']}>Nothing is asked for yet: add what shall be measured.</p>
      ) : null}
      {unknown.length > 0 && !sheet.released ? (
        <div className={styles['help']}>
          <p>Whether our own measuring can verify a tolerance is not known everywhere:</p>
          <ul>
            {unknown.map((why) => (
              <li key={why}>{why.replace(/^Not known: /u, '· ')}</li>
            ))}
          </ul>
        </div>
      ) : null}
      {groups.map(({ heading, items: within }) => (
        <div key={heading}>
          <div className={styles['line']} data-head="">
            <h2>{heading}</h2>
            <span>target</span>
            <span>tolerance ±</span>
            <span>unit</span>
            <span />
          </div>
          <ul>
            {within.map((item) => {
              const line = lineOf(sheet, item.id);
              if (!line) return null;
              return (
                <Line
                  key={item.id}
                  item={item}
                  line={line}
                  measure={measure}
                  sheet={sheet}
                  verified={verified.get(item.id) ?? null}
                  onChange={(next) =>
                    keepLines(sheet.lines.map((each) => (each.item === next.item ? next : each)))
                  }
                  onTakeOut={() => keepLines(sheet.lines.filter((each) => each.item !== item.id))}
                />
              );
            })}
          </ul>
        </div>
      ))}
      {sheet.released ? null : (
        <footer className={styles['buttons']}>
          <Pick
            label="Add to the sheet"
            options={kindOptions(open)}
            value={null}
            placeholder="what shall be measured"
            onChange={add}
          />
        </footer>
      )}
    </section>
  );
};
