import type { ReactElement } from 'react';
import type { Settings } from '../../core/contract/settings.ts';
import { CORNER_LABEL_STYLES } from '../../core/corners.ts';
import { Choice } from './Choice.tsx';

const UNITS = [
  { value: 'kg', text: 'kilogram' },
  { value: 'lb', text: 'pound' },
] as const;
const LABELS = CORNER_LABEL_STYLES.map((value) => ({ value, text: value }));

/** How the crew says things: the unit of mass, and what the corners are called. */
export const UnitAndLabels = ({
  settings,
  onChange,
}: {
  readonly settings: Settings;
  readonly onChange: (part: Partial<Settings>) => void;
}): ReactElement => (
  <>
    <Choice
      label="Mass in"
      options={UNITS}
      value={settings.massUnit}
      onChange={(massUnit) => onChange({ massUnit })}
    />
    <Choice
      label="Corners called"
      options={LABELS}
      value={settings.cornerLabels}
      onChange={(cornerLabels) => onChange({ cornerLabels })}
    />
  </>
);
