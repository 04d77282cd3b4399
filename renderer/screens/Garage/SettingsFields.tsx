import type { ReactElement } from 'react';
import { PAPER_SIZES, type Settings } from '../../../core/contract/settings.ts';
import { CROSS_DIAGONALS } from '../../../core/contract/records.ts';
import { diagonalLabel } from '../../../core/answers/balanceAnswer.ts';
import { inWords, massShown } from '../../../core/format/quantity.ts';
import { typedMass } from '../../../core/format/typed.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Field } from '../../parts/Field.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { UnitAndLabels } from '../../parts/UnitAndLabels.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './SettingsFields.module.css';

const THEMES = [
  { value: 'daylight', text: 'daylight' },
  { value: 'night', text: 'night' },
  { value: 'as the system', text: 'as the system' },
] as const;

/** What the crew chooses once: units, corner labels, which diagonal is cross weight, theme. */
export const SettingsFields = ({ settings }: { readonly settings: Settings }): ReactElement => {
  const { note, give } = useCommand();
  const change = (part: Partial<Settings>): void =>
    void give({ do: 'change settings', settings: { ...settings, ...part } });
  return (
    <div className={styles['fields']}>
      <UnitAndLabels settings={settings} onChange={change} />
      <Choice
        label="Cross weight is the diagonal"
        options={CROSS_DIAGONALS.map((value) => ({
          value,
          text: diagonalLabel(value, settings.cornerLabels),
        }))}
        value={settings.cross}
        onChange={(cross) => change({ cross })}
      />
      <Choice
        label="Screen"
        options={THEMES}
        value={settings.theme}
        onChange={(theme) => change({ theme })}
      />
      <Choice
        label="Paper"
        options={PAPER_SIZES.map((value) => ({ value, text: value }))}
        value={settings.paper}
        onChange={(paper) => change({ paper })}
      />
      <Field
        label="Mark a capture when a zero moved by more than"
        text={inWords(massShown(settings.massUnit, settings.zeroShiftLimit, { decimals: 2 }))}
        inputMode="decimal"
        understand={(text) => {
          const typed = typedMass(text, settings.massUnit);
          if (!typed.ok) return typed;
          return typed.value > 0 && typed.value <= 10
            ? { ok: true, value: typed.value, said: typed.understood }
            : { ok: false, why: 'Above zero, at most 10 kg.' };
        }}
        onCommit={(zeroShiftLimit) => change({ zeroShiftLimit })}
      />
      <NoteLine note={note} />
    </div>
  );
};
