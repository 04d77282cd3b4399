import { useMemo, useState, type ReactElement } from 'react';
import type { AdjustmentNow } from '../../../core/adjust/adjustment.ts';
import { whatIf } from '../../../core/adjust/whatIf.ts';
import { massPlaces } from '../../../core/adjust/massPlaces.ts';
import { diagonalLabel } from '../../../core/answers/balanceAnswer.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { CORNERS, CORNER_NAMES, cornerLabel, perCorner } from '../../../core/corners.ts';
import { changeText, MM, PERCENT, valueText } from '../../../core/format/valueShown.ts';
import { signed } from '../../../core/format/number.ts';
import { PushButton } from '../../parts/PushButton.tsx';
import styles from './Screen.module.css';

const MOST_TURNS = 5;
/** An uncertainty is rounded up to what can be shown, kg. */
const LEAST_U = 0.01;

const Slider = ({
  label,
  shown,
  value,
  least,
  most,
  step,
  onChange,
}: {
  readonly label: string;
  readonly shown: string;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly step: number;
  readonly onChange: (value: number) => void;
}): ReactElement => (
  <label className={styles['slider']}>
    <span>{label}</span>
    <input
      type="range"
      min={least}
      max={most}
      step={step}
      value={value}
      aria-valuetext={shown}
      onChange={(event) => onChange(Number(event.target.value))}
    />
    <output>{shown}</output>
  </label>
);

/** What turns and masses would make of the car, without touching it. */
export const WhatIf = ({
  now,
  state,
}: {
  readonly now: AdjustmentNow;
  readonly state: BenchState;
}): ReactElement => {
  const [turns, setTurns] = useState(perCorner(() => 0));
  const [masses, setMasses] = useState<Readonly<Record<string, number>>>({});
  const { car, settings } = state;
  const mass = { kind: 'mass', unit: settings.massUnit } as const;
  const places = useMemo(() => massPlaces(car), [car]);
  const found = useMemo(
    () =>
      whatIf({
        reading: now.reading,
        response: now.response,
        points: now.targets.heights.map(({ point }) => point),
        cross: now.targets.diagonal,
        turns,
        masses: places.map(({ id, x, y, z }) => ({ mass: masses[id] ?? 0, x, y, z })),
      }),
    [now, turns, masses, places],
  );
  const g = now.reading.gravity;
  return (
    <section className={styles['whatIf']} aria-label="What if">
      <div>
        {CORNERS.filter((corner) => now.adjusters[corner]).map((corner) => (
          <Slider
            key={corner}
            label={`Perch, ${CORNER_NAMES[corner]}`}
            shown={`${signed(turns[corner], 2)} turns`}
            value={turns[corner]}
            least={-MOST_TURNS}
            most={MOST_TURNS}
            step={1 / (now.adjusters[corner]?.stepsPerTurn ?? 1)}
            onChange={(value) => setTurns({ ...turns, [corner]: value })}
          />
        ))}
        {places.map(({ id, name, most }) => (
          <Slider
            key={id}
            label={name}
            shown={changeText(mass, masses[id] ?? 0)}
            value={masses[id] ?? 0}
            least={-most}
            most={most}
            step={0.5}
            onChange={(value) => setMasses({ ...masses, [id]: value })}
          />
        ))}
        <PushButton
          small
          onPress={() => {
            setTurns(perCorner(() => 0));
            setMasses({});
          }}
        >
          All to nothing
        </PushButton>
      </div>
      {found.ok ? (
        <table aria-label="As it would be">
          <tbody>
            {CORNERS.map((corner) => {
              const { value } = found.loads[corner];
              const u = Math.max(found.loads[corner].u, LEAST_U * g);
              return (
                <tr key={corner}>
                  <th scope="row">{cornerLabel(corner, settings.cornerLabels)}</th>
                  <td>
                    {valueText(mass, value / g, u / g)} ±{valueText(mass, u / g, u / g)}
                  </td>
                </tr>
              );
            })}
            <tr>
              <th scope="row">Total</th>
              <td>{valueText(mass, found.balance.total.value, found.balance.total.u)}</td>
            </tr>
            {(
              [
                [
                  `Cross ${diagonalLabel(found.balance.cross, settings.cornerLabels)}`,
                  'crossShare',
                ],
                ['Front', 'frontShare'],
                ['Left', 'leftShare'],
              ] as const
            ).map(([name, key]) => (
              <tr key={key}>
                <th scope="row">{name}</th>
                <td>{valueText(PERCENT, found.balance[key].value, found.balance[key].u)}</td>
              </tr>
            ))}
            <tr>
              <th scope="row">CG behind front axle</th>
              <td>{valueText(MM, found.balance.cgBehindFrontAxle.value)}</td>
            </tr>
            <tr>
              <th scope="row">CG left of centre</th>
              <td>{valueText(MM, found.balance.cgLeftOfCentre.value)}</td>
            </tr>
            <tr>
              <th scope="row">CG height</th>
              <td>{found.cgHeight === null ? 'not known' : valueText(MM, found.cgHeight)}</td>
            </tr>
            {found.rises.map((rise, i) => {
              const height = now.isRise[i] ? null : found.heights[i];
              return (
                <tr key={now.targets.heights[i]?.point.name}>
                  <th scope="row">{now.targets.heights[i]?.point.name}</th>
                  <td>
                    {height ? `${valueText(MM, height.value, height.u)} ` : ''}
                    {changeText(MM, rise)}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      ) : (
        <p role="alert">{found.why}</p>
      )}
    </section>
  );
};
