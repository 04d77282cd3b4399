import { useState, type ReactElement } from 'react';
import { balanceAnswer } from '../../../core/answers/balanceAnswer.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { sameFields, useFrame } from '../../live/useLive.tsx';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { cx } from '../../parts/cx.ts';
import { StartHere } from '../Start/StartHere.tsx';
import { Actions } from './Actions.tsx';
import { Beams } from './Beams.tsx';
import { Plan } from './Plan.tsx';
import { PracticeStrip } from './PracticeStrip.tsx';
import { SidePanel } from './SidePanel.tsx';
import styles from './Screen.module.css';

const QUESTION = 'Where is the weight?';

const Head = ({ joined, state }: BenchView): ReactElement => {
  const answer = useFrame((frame) => balanceAnswer({ joined, state, frame }), sameFields);
  return <AnswerHead question={QUESTION} answer={answer} />;
};

/** Pads are looked for and cannot be: there is nothing to show but the ways to begin. */
const hasNoRadio = ({ source, radio, pads }: BenchState): boolean =>
  source === 'bluetooth' && radio !== 'on' && radio !== 'starting' && pads.length === 0;

/** Balance: where is the weight? */
export const BalanceScreen = ({
  view,
  panelOpen,
  onPanelOpen,
}: {
  readonly view: BenchView;
  readonly panelOpen: boolean;
  readonly onPanelOpen: (open: boolean) => void;
}): ReactElement => {
  const [note, setNote] = useState('');
  const { state } = view;
  if (!state || state.source === null || hasNoRadio(state))
    return (
      <div className={styles['screen']}>
        <div className={styles['main']}>
          <Head {...view} />
          {state ? <StartHere state={state} /> : null}
        </div>
      </div>
    );
  return (
    <div className={styles['screen']}>
      <div className={cx(styles['main'])}>
        <Head {...view} />
        <Plan state={state} />
        <Beams state={state} />
        {state.practice ? (
          <PracticeStrip practice={state.practice} labels={state.settings.cornerLabels} />
        ) : null}
      </div>
      <SidePanel
        state={state}
        isOpen={panelOpen}
        onClose={() => onPanelOpen(false)}
        note={note}
        onNote={setNote}
      />
      <Actions state={state} note={note} />
    </div>
  );
};
