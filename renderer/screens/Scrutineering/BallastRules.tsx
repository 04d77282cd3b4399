import type { ReactElement } from 'react';
import type { Authority } from '../../../core/contract/scrutineering.ts';
import type { Limit } from '../../../core/scrutineering/prediction.ts';
import { Field, type Understood } from '../../parts/Field.tsx';
import {
  quantityField,
  understandCount,
  understandOrNone,
} from '../../parts/understandQuantity.ts';
import styles from './Screen.module.css';
import type { BallastAsked } from './useBallast.ts';
import type { Scrutineering } from './useScrutineering.ts';

const SHARE = { kind: 'share', unit: null } as const;
const MOST_PLATES = 200;

const understandFixing = (text: string): Understood<string> => {
  const fixing = text.trim();
  return fixing.length <= 200
    ? { ok: true, value: fixing, said: fixing === '' ? 'not said' : fixing }
    : { ok: false, why: 'At most two hundred letters.' };
};

const understandPlates = (text: string): Understood<number | null> =>
  text.trim() === '' || text.trim() === '—'
    ? { ok: true, value: null, said: 'no limit' }
    : understandCount(MOST_PLATES)(text);

const Band = ({
  name,
  band,
  onChange,
}: {
  readonly name: string;
  readonly band: Limit;
  readonly onChange: (band: Limit) => void;
}): ReactElement => {
  const understand = (other: number | null, isLow: boolean) =>
    understandOrNone({
      ...SHARE,
      none: 'no limit',
      refuse: (value) => {
        if (!(value > 0 && value < 1)) return 'Between 0 and 100 %.';
        if (other === null) return null;
        if (isLow && value > other) return 'Above the upper end.';
        return !isLow && value < other ? 'Below the lower end.' : null;
      },
    });
  return (
    <>
      <Field
        label={`${name} at least`}
        text={quantityField(SHARE, band.low)}
        inputMode="decimal"
        understand={understand(band.high, true)}
        onCommit={(low) => onChange({ ...band, low })}
      />
      <Field
        label={`${name} at most`}
        text={quantityField(SHARE, band.high)}
        inputMode="decimal"
        understand={understand(band.low, false)}
        onCommit={(high) => onChange({ ...band, high })}
      />
    </>
  );
};

/** The bands in which the balance stays, and what the rules say of ballast. */
export const BallastRules = ({
  own,
  asked,
}: {
  readonly own: Scrutineering;
  readonly asked: BallastAsked;
}): ReactElement | null => {
  const { chosen } = own;
  if (!chosen) return null;
  const { ballast } = chosen.authority;
  const wanted = { kind: 'mass', unit: own.state.settings.massUnit } as const;
  const change = (next: Partial<Authority['ballast']>): void =>
    own.changeAuthority((now) => ({ ...now, ballast: { ...now.ballast, ...next } }));
  return (
    <section className={styles['part']} aria-label="Bands and rules">
      <h2>Balance to keep, rules to obey</h2>
      <Band name="Front" band={asked.frontShare} onChange={asked.setFront} />
      <Band name="Left" band={asked.leftShare} onChange={asked.setLeft} />
      <Field
        label="Most ballast in the car"
        text={quantityField(wanted, ballast.most)}
        inputMode="decimal"
        understand={understandOrNone({
          ...wanted,
          none: 'no limit',
          refuse: (value) => (value < 0 || value > 1000 ? 'From nothing to 1000 kg.' : null),
        })}
        onCommit={(most) => change({ most })}
      />
      <Field
        label="Most plates at a place"
        text={ballast.mostPlates === null ? '—' : String(ballast.mostPlates)}
        inputMode="decimal"
        understand={understandPlates}
        onCommit={(mostPlates) => change({ mostPlates })}
      />
      <Field
        label="Fixed with"
        text={ballast.fixing}
        understand={understandFixing}
        onCommit={(fixing) => change({ fixing })}
      />
    </section>
  );
};
