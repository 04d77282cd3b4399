import { useCallback, type ReactElement } from 'react';
import { diagonalLabel } from '../../../core/answers/balanceAnswer.ts';
import type { BenchState, Frame } from '../../../core/contract/events.ts';
import { sameFields, useFrame } from '../../live/useLive.tsx';
import { Beam } from '../../parts/Beam.tsx';
import { shareView, totalView } from './balanceView.ts';
import styles from './Screen.module.css';

const ShareBeam = ({
  which,
  label,
  ends,
}: {
  readonly which: 'frontShare' | 'leftShare' | 'crossShare';
  readonly label: string;
  readonly ends: readonly [string, string];
}): ReactElement => {
  const select = useCallback((frame: Frame | null) => shareView(frame, which), [which]);
  const view = useFrame(select, sameFields);
  return <Beam label={label} ends={ends} unit="%" {...view} />;
};

const TotalBeam = ({ state }: { readonly state: BenchState }): ReactElement => {
  const { massUnit } = state.settings;
  const last = state.captures.find((capture) => !capture.setAside);
  const lastTotal = last?.balance.total.value ?? null;
  const select = useCallback(
    (frame: Frame | null) => totalView(frame, massUnit, lastTotal),
    [massUnit, lastTotal],
  );
  const view = useFrame(select, sameFields);
  return (
    <Beam
      label="Total"
      ends={last ? [`no. ${last.number}`, 'now'] : ['', '']}
      unit={massUnit}
      {...view}
    />
  );
};

/** Total, front, left and cross, each as a beam that tips with its value. */
export const Beams = ({ state }: { readonly state: BenchState }): ReactElement => {
  const { cross, cornerLabels } = state.settings;
  const other = cross === 'RF+LR' ? 'LF+RR' : 'RF+LR';
  const named = diagonalLabel(cross, cornerLabels);
  const compact = (text: string): string => text.replaceAll(' ', '');
  return (
    <section className={styles['beams']} aria-label="Balance">
      <TotalBeam state={state} />
      <ShareBeam which="frontShare" label="Front" ends={['front', 'rear']} />
      <ShareBeam which="leftShare" label="Left" ends={['left', 'right']} />
      <ShareBeam
        which="crossShare"
        label={`Cross ${named}`}
        ends={[compact(named), compact(diagonalLabel(other, cornerLabels))]}
      />
    </section>
  );
};
