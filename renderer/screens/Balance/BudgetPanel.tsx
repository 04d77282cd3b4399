import { useEffect, useState, type ReactElement } from 'react';
import type { BudgetOf, BudgetShown } from '../../../core/contract/explained.ts';
import type { Settings } from '../../../core/contract/settings.ts';
import { cornerLabel, CORNERS } from '../../../core/corners.ts';
import { fixed } from '../../../core/format/number.ts';
import { massIn } from '../../../core/units.ts';
import { TERM_LABELS } from '../../../core/uncertainty/budget.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { usePrint } from '../../parts/usePrint.ts';
import styles from './BudgetPanel.module.css';

const isShare = (of: BudgetOf): boolean => of === 'front' || of === 'left' || of === 'cross';

const Table = ({
  budget,
  settings,
}: {
  readonly budget: BudgetShown;
  readonly settings: Settings;
}): ReactElement => {
  const unit = isShare(budget.of) ? '%' : settings.massUnit;
  const inUnit = (value: number): string =>
    isShare(budget.of) ? fixed(100 * value, 4) : fixed(massIn(settings.massUnit, value), 4);
  const dof = (value: number): string => (Number.isFinite(value) ? fixed(value, 0) : '∞');
  return (
    <>
      <p className={styles['whole']}>
        {budget.isComplete ? '±' : 'at least ±'}
        {inUnit(budget.expanded)} {unit} with 95 % coverage; u {inUnit(budget.u)} {unit},{' '}
        {dof(budget.dof)} degrees of freedom.
      </p>
      {budget.isComplete ? null : (
        <p>
          <Tag kind="note">a lower bound</Tag> Terms that are not known are left out, and named.
        </p>
      )}
      <table className={styles['terms']}>
        <thead>
          <tr>
            <th scope="col">term</th>
            <th scope="col">type</th>
            <th scope="col">u {unit}</th>
            <th scope="col">dof</th>
            <th scope="col">share</th>
          </tr>
        </thead>
        <tbody>
          {budget.lines.map((line, index) => (
            <tr key={`${line.name} ${index}`} data-unknown={line.contribution === null}>
              <th scope="row">
                {TERM_LABELS[line.name]}
                <small>{line.source}</small>
              </th>
              <td>{line.kind}</td>
              <td>{line.contribution === null ? 'not known' : inUnit(line.contribution)}</td>
              <td>{line.contribution === null ? '' : dof(line.dof)}</td>
              <td>
                {line.share === null ? (
                  ''
                ) : (
                  <span className={styles['share']}>
                    <i style={{ inlineSize: `${Math.round(60 * line.share)}px` }} />
                    {fixed(100 * line.share, 0)} %
                  </span>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
};

/** Where the uncertainty of a value comes from, term by term. */
export const BudgetPanel = ({
  captureId,
  settings,
}: {
  /** Null: what stands on the pads now. */
  readonly captureId: string | null;
  readonly settings: Settings;
}): ReactElement => {
  const { note, give } = useCommand();
  const { note: printNote, print } = usePrint();
  const [of, setOf] = useState<BudgetOf>('total');
  const [budgets, setBudgets] = useState<readonly BudgetShown[]>([]);
  useEffect(() => {
    void give({ do: 'explain', captureId }).then((result) => {
      if (result?.is === 'explained') setBudgets(result.budgets);
    });
  }, [captureId, give]);
  const shown = budgets.find((budget) => budget.of === of);
  const names: readonly { readonly value: BudgetOf; readonly text: string }[] = [
    { value: 'total', text: 'Total' },
    ...CORNERS.map((value) => ({ value, text: cornerLabel(value, settings.cornerLabels) })),
    { value: 'front', text: 'Front' },
    { value: 'left', text: 'Left' },
    { value: 'cross', text: 'Cross' },
  ];
  return (
    <section className={styles['budget']} aria-label="Uncertainty budget">
      <Pick label="Uncertainty of" options={names} value={of} onChange={setOf} />
      {shown ? <Table budget={shown} settings={settings} /> : <NoteLine note={note} />}
      {captureId !== null && shown ? (
        <div className={styles['files']}>
          {(['pdf', 'csv'] as const).map((form) => (
            <PushButton
              key={form}
              small
              onPress={() => void print({ what: { is: 'budget', captureId }, form })}
            >
              Budget, {form.toUpperCase()}
            </PushButton>
          ))}
          <NoteLine note={printNote} />
        </div>
      ) : null}
    </section>
  );
};
