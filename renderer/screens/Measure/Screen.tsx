import { useState, type ReactElement } from 'react';
import { READING } from '../../../core/answers/answer.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { measureWorked } from '../../../core/help/measureWorked.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { Choice } from '../../parts/Choice.tsx';
import { HowWorkedOut } from '../../parts/HowWorkedOut.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { AxleLiftPart } from './AxleLiftPart.tsx';
import { CarPart } from './CarPart.tsx';
import { ReleasePart } from './ReleasePart.tsx';
import { SheetPart } from './SheetPart.tsx';
import { useMeasure, type Measure } from './useMeasure.ts';
import { useWalk } from './useWalk.ts';
import { WalkPart } from './WalkPart.tsx';
import styles from './Screen.module.css';

const QUESTION = 'What does the car measure?';

const PARTS = ['walk', 'sheet', 'release', 'lift', 'car'] as const;
type Part = (typeof PARTS)[number];
const PART_TEXT: Readonly<Record<Part, string>> = {
  walk: 'Walk',
  sheet: 'Sheet',
  release: 'Release',
  lift: 'Axle lift',
  car: 'Car',
};

const PartView = ({
  part,
  measure,
  onPart,
}: {
  readonly part: Part;
  readonly measure: Measure;
  readonly onPart: (part: Part) => void;
}): ReactElement => {
  switch (part) {
    case 'walk':
      return <WalkPart measure={measure} onSheet={() => onPart('sheet')} />;
    case 'sheet':
      return <SheetPart measure={measure} />;
    case 'release':
      return <ReleasePart measure={measure} onWalk={() => onPart('walk')} />;
    case 'lift':
      return <AxleLiftPart measure={measure} />;
    case 'car':
      return <CarPart measure={measure} />;
  }
};

const Measured = ({ measure }: { readonly measure: Measure }): ReactElement => {
  const [part, setPart] = useState<Part>('walk');
  const { answer } = useWalk(measure);
  const { sources } = measure;
  return (
    <>
      <AnswerHead question={QUESTION} answer={answer} />
      <div className={styles['parts']}>
        <Choice
          label="Part of the measuring"
          labelUnseen
          options={PARTS.map((value) => ({ value, text: PART_TEXT[value] }))}
          value={part}
          onChange={setPart}
        />
        <NoteLine note={measure.note?.kind === 'refused' ? measure.note : null} />
      </div>
      <PartView part={part} measure={measure} onPart={setPart} />
      {sources ? <HowWorkedOut worked={() => measureWorked(sources, measure.state)} /> : null}
    </>
  );
};

const WithRecords = ({
  state,
  recordId,
}: {
  readonly state: BenchState;
  readonly recordId: string | null;
}): ReactElement => {
  const measure = useMeasure(state, recordId);
  return measure ? (
    <Measured measure={measure} />
  ) : (
    <AnswerHead question={QUESTION} answer={READING} />
  );
};

/** Measure: what does the car measure? The newest record, or the one that another screen opened. */
export const MeasureScreen = ({
  view,
  recordId,
}: {
  readonly view: BenchView;
  readonly recordId: string | null;
}): ReactElement => (
  <div className={styles['screen']}>
    {view.state ? (
      <WithRecords state={view.state} recordId={recordId} />
    ) : (
      <AnswerHead question={QUESTION} answer={READING} />
    )}
  </div>
);
