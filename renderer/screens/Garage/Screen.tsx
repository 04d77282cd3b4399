import { useState, type ReactElement } from 'react';
import type { Answer } from '../../../core/answers/answer.ts';
import { garageAnswer } from '../../../core/answers/garageAnswer.ts';
import { gravityNote } from '../../../core/answers/gravityNote.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { authoritiesKept, platesKept } from '../../../core/scrutineering/keptScrutineering.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { useKept } from '../../live/useKept.ts';
import { useRecords } from '../../live/useRecords.ts';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { Choice } from '../../parts/Choice.tsx';
import { CarFields } from '../Balance/CarFields.tsx';
import { VenueFields } from '../Balance/VenueFields.tsx';
import { MassSets } from '../Pads/MassSets.tsx';
import { Plates } from '../Scrutineering/Plates.tsx';
import { GuestPanel } from '../Settings/GuestPanel.tsx';
import { SettingsFields } from '../Settings/SettingsFields.tsx';
import { Backups } from './Backups.tsx';
import styles from './Screen.module.css';
import { Authorities, Cars, Pads } from './Things.tsx';

const QUESTION = 'What do we own and know?';
const WAITING: Answer = { about: 'reading', text: 'Reading the records.', tone: 'wait' };
const NONE: readonly never[] = [];

const PARTS = [
  { value: 'cars', text: 'Cars' },
  { value: 'pads', text: 'Pads' },
  { value: 'masses', text: 'Masses' },
  { value: 'plates', text: 'Plates' },
  { value: 'venues', text: 'Venues' },
  { value: 'authorities', text: 'Authorities' },
  { value: 'copies', text: 'Copies' },
  { value: 'settings', text: 'Settings' },
  { value: 'guests', text: 'Under the car' },
] as const;
type Part = (typeof PARTS)[number]['value'];

const Owned = ({
  view,
  state,
}: {
  readonly view: BenchView;
  readonly state: BenchState;
}): ReactElement => {
  const [part, setPart] = useState<Part>('cars');
  const here = useRecords(state);
  const authorities = useKept('authority') ?? NONE;
  const pairs = useKept('pair') ?? NONE;
  const plates = platesKept(useKept('plates') ?? NONE);
  const { settings } = state;
  const answer = garageAnswer({
    owned: {
      cars: state.cars.length,
      pads: state.pads.length,
      massSets: state.massSets.length,
      plates: plates.length,
      authorities: authoritiesKept(authorities).length,
      venues: state.venues.length,
    },
    isPractice: state.practice !== null,
    copies: state.copies,
  });

  const shown = (): ReactElement => {
    switch (part) {
      case 'cars':
        return (
          <>
            <Cars state={state} here={here} />
            <CarFields car={state.car} cars={state.cars} />
          </>
        );
      case 'pads':
        return <Pads state={state} />;
      case 'masses':
        return <MassSets state={state} />;
      case 'plates':
        return <Plates plates={plates} massUnit={settings.massUnit} />;
      case 'venues':
        return (
          <VenueFields
            venue={state.venue}
            venues={state.venues}
            gravity={state.gravity}
            note={gravityNote(state, null)}
          />
        );
      case 'authorities':
        return <Authorities kept={authorities} pairs={pairs} />;
      case 'copies':
        return <Backups view={view} />;
      case 'settings':
        return <SettingsFields settings={settings} />;
      case 'guests':
        return <GuestPanel state={state} />;
    }
  };
  return (
    <>
      <AnswerHead question={QUESTION} answer={answer} />
      <div className={styles['parts']}>
        <Choice label="What is owned" labelUnseen options={PARTS} value={part} onChange={setPart} />
      </div>
      <div className={styles['part']}>{shown()}</div>
    </>
  );
};

/** Garage: what is owned and known, typed once. */
export const GarageScreen = ({ view }: { readonly view: BenchView }): ReactElement => (
  <div className={styles['screen']}>
    {view.state ? (
      <Owned view={view} state={view.state} />
    ) : (
      <AnswerHead question={QUESTION} answer={WAITING} />
    )}
  </div>
);
