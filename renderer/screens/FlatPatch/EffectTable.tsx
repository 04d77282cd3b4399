import type { ReactElement } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import { CORNERS, cornerLabel } from '../../../core/corners.ts';
import type { PatchEffect, PatchEffects } from '../../../core/flatPatch/effect.ts';
import { changeText } from '../../../core/format/valueShown.ts';
import styles from './Screen.module.css';

/** What is left of the patch's faults does to this car, bars off and on. */
export const EffectTable = ({
  effects,
  state,
}: {
  readonly effects: PatchEffects;
  readonly state: BenchState;
}): ReactElement => {
  const { massUnit, cornerLabels } = state.settings;
  const mass = { kind: 'mass', unit: massUnit } as const;
  const rows = (of: PatchEffect): readonly (readonly [string, string])[] => [
    ...CORNERS.map((corner) => {
      const { value, u } = of.corners[corner];
      return [cornerLabel(corner, cornerLabels), changeText(mass, value, u)] as const;
    }),
    [
      'Cross RF + LR',
      changeText({ kind: 'share', unit: null }, of.cross.value, of.cross.u),
    ] as const,
    [
      'Camber by gravity',
      changeText({ kind: 'angle', unit: null }, of.camber.value, of.camber.u),
    ] as const,
  ];
  const off = rows(effects.barsOff);
  const on = rows(effects.barsOn);
  return (
    <section aria-label="What it does to this car" className={styles['table']}>
      <h2>What it does to this car</h2>
      <table>
        <thead>
          <tr>
            <th scope="col" />
            <th scope="col">bars off</th>
            <th scope="col">bars on</th>
          </tr>
        </thead>
        <tbody>
          {off.map(([name, value], index) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{value}</td>
              <td>{on[index]?.[1]}</td>
            </tr>
          ))}
          {effects.slopeShift ? (
            <tr>
              <th scope="row">To one side by the slope alone</th>
              <td colSpan={2}>
                {changeText(mass, Math.abs(effects.slopeShift.value), effects.slopeShift.u)}
              </td>
            </tr>
          ) : null}
        </tbody>
      </table>
    </section>
  );
};
