import type { ReactElement } from 'react';
import { READING } from '../../../core/answers/answer.ts';
import { garageAnswer, ownedOf } from '../../../core/answers/garageAnswer.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { usesOf } from '../../../core/garage/whereUsed.ts';
import { platesKept } from '../../../core/scrutineering/keptScrutineering.ts';
import { garageWorked } from '../../../core/help/garageWorked.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { useKept } from '../../live/useKept.ts';
import { useRecords } from '../../live/useRecords.ts';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { Choice } from '../../parts/Choice.tsx';
import { HowWorkedOut } from '../../parts/HowWorkedOut.tsx';
import { GuestPanel } from './GuestPanel.tsx';
import { SettingsFields } from './SettingsFields.tsx';
import { Authorities } from './Authorities.tsx';
import { Backups } from './Backups.tsx';
import { Cars, Venues, type PartProps } from './CarsAndVenues.tsx';
import { CarWheels } from './CarWheels.tsx';
import { Masses, Pads, PlatesOwned } from './Equipment.tsx';
import { Gauges } from './Gauges.tsx';
import { GARAGE_PARTS, type GaragePart } from './parts.ts';
import { People } from './People.tsx';
import styles from './Screen.module.css';
import { useMayUse } from './useMayUse.ts';

const QUESTION = 'What do we own and know?';
const NONE: readonly never[] = [];

interface GarageProps {
  readonly view: BenchView;
  readonly part: GaragePart;
  readonly onPart: (part: GaragePart) => void;
}

const Owned = ({
  view,
  state,
  part,
  onPart,
}: GarageProps & { readonly state: BenchState }): ReactElement => {
  const here = useRecords(state);
  const kept = useMayUse(state, here);
  const authorities = useKept('authority') ?? NONE;
  const gauges = useKept('gauge') ?? NONE;
  const plates = useKept('plates') ?? NONE;
  const answer = garageAnswer(state, ownedOf({ gauges, plates, authorities }));
  const props: PartProps = { state, usesOf: (thing) => kept && usesOf(thing, kept) };

  const shown = (): ReactElement => {
    switch (part) {
      case 'cars':
        return <Cars {...props} />;
      case 'pads':
        return <Pads {...props} />;
      case 'masses':
        return <Masses {...props} />;
      case 'gauges':
        return <Gauges kept={gauges} usesOf={props.usesOf} />;
      case 'wheels':
        return <CarWheels state={state} />;
      case 'plates':
        return <PlatesOwned {...props} plates={platesKept(plates)} />;
      case 'venues':
        return <Venues {...props} />;
      case 'authorities':
        return <Authorities kept={authorities} usesOf={props.usesOf} />;
      case 'people':
        return <People here={here} />;
      case 'copies':
        return <Backups view={view} />;
      case 'settings':
        return <SettingsFields settings={state.settings} />;
      case 'guests':
        return <GuestPanel state={state} />;
    }
  };
  return (
    <>
      <AnswerHead question={QUESTION} answer={answer} />
      <div className={styles['parts']}>
        <Choice
          label="What is owned"
          labelUnseen
          options={GARAGE_PARTS}
          value={part}
          onChange={onPart}
        />
      </div>
      <div className={styles['part']}>{shown()}</div>
      <HowWorkedOut worked={() => garageWorked(state.copies)} />
    </>
  );
};

/** Garage: what is owned and known, typed once. */
export const GarageScreen = (props: GarageProps): ReactElement => (
  <div className={styles['screen']}>
    {props.view.state ? (
      <Owned {...props} state={props.view.state} />
    ) : (
      <AnswerHead question={QUESTION} answer={READING} />
    )}
  </div>
);
