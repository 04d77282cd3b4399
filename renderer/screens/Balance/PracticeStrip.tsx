import { useState, type ReactElement } from 'react';
import { CORNER_NAMES, cornerLabel, CORNERS, type Corner } from '../../../core/corners.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { turnsShown } from '../../../core/format/quantity.ts';
import { Choice } from '../../parts/Choice.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { PracticeRunHands } from './PracticeRunHands.tsx';
import styles from './PracticeStrip.module.css';

type Practice = NonNullable<BenchState['practice']>;

const QUARTER = 0.25;

const CAR_WORDS: Readonly<Record<Practice['car'], string>> = {
  raised: 'raised',
  lowering: 'coming down',
  'on the pads': 'on the pads',
  raising: 'going up',
};

/** The hands on the practice car. */
export const PracticeStrip = ({
  practice,
  labels,
}: {
  readonly practice: Practice;
  readonly labels: BenchState['settings']['cornerLabels'];
}): ReactElement => {
  const [corner, setCorner] = useState<Corner>('RF');
  const { note, give } = useCommand();
  const isUp = practice.car === 'raised' || practice.car === 'raising';
  const turn = (turns: number): void => void give({ do: 'turn practice perch', corner, turns });
  const name = CORNER_NAMES[corner];
  return (
    <section className={styles['strip']} aria-label="Practice car">
      <div className={styles['who']}>
        <Tag kind="practice">practice car</Tag>
        <span>{CAR_WORDS[practice.car]}</span>
      </div>
      <div className={styles['hands']}>
        <PushButton
          onPress={() => void give({ do: isUp ? 'lower practice car' : 'raise practice car' })}
        >
          {isUp ? 'Lower' : 'Raise'}
        </PushButton>
        <PushButton
          small
          onPress={() => void give({ do: 'lean on practice car', on: !practice.leaning })}
        >
          {practice.leaning ? 'Let go' : 'Lean on'}
        </PushButton>
        <Choice
          label="Perch to turn"
          labelUnseen
          options={CORNERS.map((value) => ({ value, text: cornerLabel(value, labels) }))}
          value={corner}
          onChange={setCorner}
        />
        <PushButton
          small
          aria-label={`−¼ turn of the ${name} perch`}
          onPress={() => turn(-QUARTER)}
        >
          −¼
        </PushButton>
        <span className={styles['turns']} aria-label={`Turns of the ${name} perch`}>
          {turnsShown(practice.turns[corner])}
        </span>
        <PushButton small aria-label={`+¼ turn of the ${name} perch`} onPress={() => turn(QUARTER)}>
          +¼
        </PushButton>
      </div>
      {practice.car === 'raised' ? <PracticeRunHands corner={corner} /> : null}
      {note?.kind === 'refused' ? <NoteLine note={note} /> : null}
    </section>
  );
};
