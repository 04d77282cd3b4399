import type { ReactElement } from 'react';
import type { KeptPair } from '../../../core/contract/scrutineering.ts';
import { changeText, valueText, type Wanted } from '../../../core/format/valueShown.ts';
import { difference, oursAtTheirPlace } from '../../../core/scrutineering/pair.ts';
import { pairKindOf } from '../../../core/scrutineering/quantity.ts';
import type { TheirsKnown } from '../../../core/scrutineering/theirsKnown.ts';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import styles from './Screen.module.css';
import type { Scrutineering } from './useScrutineering.ts';

const OUTLIER = { event: 'its event stands out', pair: 'stands out' } as const;

const stateText = (
  { seatMass, fuelMass, tyres }: KeptPair['states']['ours'],
  mass: (kg: number) => string,
): string =>
  [
    seatMass === null ? 'driver ?' : `driver ${mass(seatMass)}`,
    fuelMass === null ? 'fuel ?' : `fuel ${mass(fuelMass)}`,
    tyres ?? 'tyres ?',
  ].join(', ');

/** Every pair, newest first: those that stand out are marked, those left out say why; all are kept. */
export const PairTable = ({
  own,
  pairs,
  known: { offset },
  wanted,
}: {
  readonly own: Scrutineering;
  readonly pairs: Scrutineering['pairs'];
  readonly known: TheirsKnown;
  readonly wanted: Wanted;
}): ReactElement => {
  const { items } = own.sources;
  const mass = (kg: number): string =>
    valueText({ kind: 'mass', unit: own.state.settings.massUnit }, kg);
  const Row = ({ pair, isAside }: Scrutineering['pairs'][number]): ReactElement => {
    const item = items.get(pair.item);
    const kind = item ? pairKindOf(item) : 'other';
    const outlier = offset.ok
      ? (offset.used.find((each) => each.pair.id === pair.id)?.outlier ?? null)
      : null;
    const findings = offset.findings.filter((each) => each.pair === pair.id);
    const leftOut = offset.leftOut.find((each) => each.pair === pair.id);
    const said = findings.map(({ text }) => text);
    return (
      <tr data-out={isAside || leftOut !== undefined}>
        <th scope="row">
          {pair.event}
          <small>{pair.label}</small>
          {isAside ? <Tag kind="stale">set aside</Tag> : null}
          {outlier ? <Tag kind="alarm">{OUTLIER[outlier]}</Tag> : null}
          {leftOut ? <Tag kind="stale">left out</Tag> : null}
          {said.map((text) => (
            <small key={text}>{text}</small>
          ))}
          {leftOut && !said.includes(leftOut.why) ? <small>{leftOut.why}</small> : null}
        </th>
        <td>{item?.label ?? pair.item}</td>
        <td>
          {valueText(wanted, oursAtTheirPlace(kind, pair), 0)}
          <small>{stateText(pair.states.ours, mass)}</small>
          {pair.gravity ? (
            <small>at their gravity; read {valueText(wanted, pair.ours, 0)}</small>
          ) : null}
        </td>
        <td>
          {valueText(wanted, pair.theirs, 0)}
          <small>{stateText(pair.states.theirs, mass)}</small>
        </td>
        <td>{changeText(wanted, difference(kind, pair), 0)}</td>
        <td>
          <div className={styles['buttons']}>
            {findings.some(({ isSwapped }) => isSwapped) && !isAside ? (
              <PushButton
                small
                onPress={() => void own.keepPair({ ...pair, ours: pair.theirs, theirs: pair.ours })}
              >
                Swap ours and theirs
              </PushButton>
            ) : null}
            <PushButton small look="quiet" onPress={() => void own.keepPair(pair, !isAside)}>
              {isAside ? 'Take back in' : 'Set aside'}
            </PushButton>
          </div>
        </td>
      </tr>
    );
  };
  return (
    <section className={styles['table']} aria-label="Pairs" tabIndex={0}>
      <table>
        <thead>
          <tr>
            <th scope="col">event</th>
            <th scope="col">item</th>
            <th scope="col">ours</th>
            <th scope="col">theirs</th>
            <th scope="col">theirs less ours</th>
            <th scope="col">
              <span className="unseen">actions</span>
            </th>
          </tr>
        </thead>
        <tbody>{pairs.toReversed().map((each) => Row(each))}</tbody>
      </table>
    </section>
  );
};
