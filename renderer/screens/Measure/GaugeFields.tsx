import { useState, type ReactElement } from 'react';
import {
  quantityField,
  understandOrNone,
  understandQuantity,
} from '../../parts/understandQuantity.ts';
import type { Gauge } from '../../../core/sheet/carRecord.ts';
import { newId } from '../../newId.ts';
import { Field } from '../../parts/Field.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { understandName } from '../../parts/understandName.ts';
import { understandCount } from '../../parts/understandQuantity.ts';
import type { Measure } from './useMeasure.ts';
import type { UseReading } from './useReading.ts';
import styles from './Screen.module.css';

/** How many readings the scatter comes of where nobody says: common practice, no source. */
const USUAL_READINGS = 10;

/** What is known of a gauge that is owned. */
export const GaugeForm = ({
  gauge,
  onChange,
  onAside,
}: {
  readonly gauge: Gauge;
  readonly onChange: (gauge: Gauge) => void;
  readonly onAside: () => void;
}): ReactElement => {
  const wanted = { kind: gauge.quantity, unit: null } as const;
  const aboveZero = (value: number): string | null => (value > 0 ? null : 'Above zero.');
  const { scatter, shared } = gauge;
  return (
    <div className={styles['gauge']} role="group" aria-label={`Gauge ${gauge.name}`}>
      <Field
        label="Name"
        text={gauge.name}
        understand={understandName}
        onCommit={(name) => onChange({ ...gauge, name: name.slice(0, 60) })}
      />
      <Field
        label="Smallest step"
        text={quantityField(wanted, gauge.resolution)}
        inputMode="decimal"
        understand={understandQuantity({ ...wanted, refuse: aboveZero })}
        onCommit={(resolution) => onChange({ ...gauge, resolution })}
      />
      <Field
        label="Scatter of one reading"
        text={quantityField(wanted, scatter?.u ?? null)}
        inputMode="decimal"
        understand={understandOrNone({ ...wanted, none: 'not known', refuse: aboveZero })}
        onCommit={(u) =>
          onChange({
            ...gauge,
            scatter: u === null ? null : { u, dof: scatter?.dof ?? USUAL_READINGS - 1 },
          })
        }
      />
      {scatter ? (
        <Field
          label="seen in so many readings"
          text={String(Number.isFinite(scatter.dof) ? scatter.dof + 1 : 1000)}
          inputMode="decimal"
          understand={understandCount(1000)}
          onCommit={(count) =>
            onChange({ ...gauge, scatter: { ...scatter, dof: Math.max(1, count - 1) } })
          }
        />
      ) : null}
      <Field
        label="Its own error, standard"
        text={quantityField(wanted, shared?.u ?? null)}
        inputMode="decimal"
        understand={understandOrNone({
          ...wanted,
          none: 'not known',
          refuse: (value) => (value >= 0 ? null : 'Without a sign.'),
        })}
        onCommit={(u) => onChange({ ...gauge, shared: u === null ? null : { u, dof: Infinity } })}
      />
      <PushButton small look="quiet" onPress={onAside}>
        Set aside
      </PushButton>
    </div>
  );
};

/** What it is read with: one that is owned, the usual one, or a new one described here. */
export const GaugeFields = ({
  measure,
  reading,
}: {
  readonly measure: Measure;
  readonly reading: UseReading;
}): ReactElement => {
  const [isOpen, setOpen] = useState(false);
  const { gauge, gauges } = reading;
  const isOwned = measure.gauges.some(({ id }) => id === gauge?.id);
  const make = (): void => {
    if (!gauge) return;
    const made = { ...gauge, id: newId(), name: 'New gauge' };
    measure.keepGauge(made, false);
    reading.setGauge(made.id);
    setOpen(true);
  };
  return (
    <>
      <Pick
        label="With"
        options={gauges.map(({ id, name }) => ({ value: id, text: name }))}
        value={gauge?.id ?? null}
        placeholder="no gauge"
        onChange={reading.setGauge}
      />
      <PushButton small look="quiet" onPress={isOwned ? () => setOpen(!isOpen) : make}>
        {isOwned ? (isOpen ? 'Close the gauge' : 'About the gauge') : 'Describe a gauge'}
      </PushButton>
      {isOwned && isOpen && gauge ? (
        <GaugeForm
          gauge={gauge}
          onChange={(next) => measure.keepGauge(next, false)}
          onAside={() => {
            measure.keepGauge(gauge, true);
            setOpen(false);
          }}
        />
      ) : null}
    </>
  );
};
