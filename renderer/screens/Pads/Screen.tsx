import { useState, type ReactElement } from 'react';
import { padsAnswer, padOf } from '../../../core/answers/padsAnswer.ts';
import { PAD_SOURCES, type PadSource } from '../../../core/bench/ports.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { CORNER_NAMES, cornerLabel, CORNERS } from '../../../core/corners.ts';
import { padsWorked } from '../../../core/help/padsWorked.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { sameFields, useFrame } from '../../live/useLive.tsx';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { Choice } from '../../parts/Choice.tsx';
import { HowWorkedOut } from '../../parts/HowWorkedOut.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { Calibrate } from './Calibrate.tsx';
import { Check } from './Check.tsx';
import { Descriptions } from './Descriptions.tsx';
import { History } from './History.tsx';
import { PadCard } from './PadCard.tsx';
import { PressWalk } from './PressWalk.tsx';
import styles from './Screen.module.css';

const QUESTION = 'Can the pads be trusted?';

const SOURCE_TEXT: Readonly<Record<PadSource, string>> = {
  rig: 'practice rig',
  bluetooth: 'Bluetooth',
  recording: 'recording',
};

const Head = ({ joined, state }: BenchView): ReactElement => {
  const answer = useFrame((frame) => padsAnswer({ joined, state, frame }), sameFields);
  return <AnswerHead question={QUESTION} answer={answer} />;
};

const Source = ({ state }: { readonly state: BenchState }): ReactElement => {
  const { note, give } = useCommand();
  const fault = state.radioFault;
  return (
    <section className={styles['source']} aria-label="Source of pads">
      <Choice
        label="Pads come from"
        options={PAD_SOURCES.map((value) => ({ value, text: SOURCE_TEXT[value] }))}
        value={state.source}
        onChange={(source) =>
          void give(
            { do: 'choose pads', source },
            { doing: `Changing to ${SOURCE_TEXT[source]}.`, done: null },
          )
        }
      />
      <div className={styles['radio']}>
        {state.source === 'bluetooth' ? <p>Radio: {state.radio}.</p> : null}
        {/* The answer above says its cause and remedy. */}
        {fault?.detail ? <p>{fault.detail}</p> : null}
        <NoteLine note={note} />
      </div>
    </section>
  );
};

const PARTS = ['corners', 'calibrate', 'check', 'history', 'descriptions'] as const;
type Part = (typeof PARTS)[number];
const PART_TEXT: Readonly<Record<Part, string>> = {
  corners: 'At the corners',
  calibrate: 'Calibrate',
  check: 'Check',
  history: 'History',
  descriptions: 'Other pads',
};

const Corners = ({ state }: { readonly state: BenchState }): ReactElement => {
  const spares = state.pads.filter(({ corner }) => corner === null);
  return (
    <>
      <section className={styles['corners']} aria-label="Pads at the corners">
        {CORNERS.map((corner) => {
          const label = cornerLabel(corner, state.settings.cornerLabels);
          const pad = padOf(state, corner);
          return (
            <div key={corner} className={styles['corner']}>
              <h2>
                {label} <span>{CORNER_NAMES[corner]}</span>
              </h2>
              {pad ? (
                <PadCard pad={pad} state={state} />
              ) : (
                <p className={styles['none']}>
                  {state.assigned[corner] === null
                    ? 'No pad here yet. Choose this corner at a pad below, or press the pads in turn.'
                    : `Pad ${state.assigned[corner]} belongs here and was not heard yet.`}
                </p>
              )}
            </div>
          );
        })}
      </section>
      <section className={styles['spares']} aria-label="Pads without a corner">
        <h2>
          Without a corner <span>{spares.length === 0 ? 'none' : ''}</span>
        </h2>
        <div className={styles['cards']}>
          {spares.map((pad) => (
            <PadCard key={pad.key} pad={pad} state={state} />
          ))}
        </div>
      </section>
    </>
  );
};

const PartView = ({ part, state }: { readonly part: Part; readonly state: BenchState }) => {
  switch (part) {
    case 'corners':
      return <Corners state={state} />;
    case 'calibrate':
      return <Calibrate state={state} />;
    case 'check':
      return <Check state={state} />;
    case 'history':
      return <History state={state} />;
    case 'descriptions':
      return <Descriptions state={state} />;
  }
};

/** Pads: can they be trusted? */
export const PadsScreen = ({ view }: { readonly view: BenchView }): ReactElement => {
  const [part, setPart] = useState<Part>('corners');
  const { state } = view;
  const isOpen = state !== null && state.source !== null;
  return (
    <div className={styles['screen']}>
      <div className={styles['pads']}>
        <Head {...view} />
        {isOpen ? (
          <div className={styles['source']}>
            <Choice
              label="Part of the pads"
              labelUnseen
              options={PARTS.map((value) => ({ value, text: PART_TEXT[value] }))}
              value={part}
              onChange={setPart}
            />
          </div>
        ) : null}
        {state && (part === 'corners' || !isOpen) ? <Source state={state} /> : null}
        {state && isOpen ? <PartView part={part} state={state} /> : null}
        {state ? <HowWorkedOut worked={() => padsWorked(state)} /> : null}
      </div>
      {state && isOpen && part === 'corners' ? <PressWalk state={state} /> : null}
    </div>
  );
};
