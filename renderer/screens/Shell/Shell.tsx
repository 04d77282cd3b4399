import { useEffect, useRef, useState, type ReactElement } from 'react';
import { useFreeKeys } from '../../freeKeys.ts';
import { useView } from '../../live/useLive.tsx';
import { useTheme } from '../../theme/useTheme.ts';
import { AdjustScreen } from '../Adjust/Screen.tsx';
import { BalanceScreen } from '../Balance/Screen.tsx';
import { CompareScreen } from '../Compare/Screen.tsx';
import { FlatPatchScreen } from '../FlatPatch/Screen.tsx';
import { GarageScreen } from '../Garage/Screen.tsx';
import type { GaragePart } from '../Garage/parts.ts';
import { Help, type HelpPart } from '../Help/Help.tsx';
import { MeasureScreen } from '../Measure/Screen.tsx';
import { PadsScreen } from '../Pads/Screen.tsx';
import { PracticeWalk } from '../PracticeWalk/PracticeWalk.tsx';
import { WalkButton } from '../PracticeWalk/WalkButton.tsx';
import { ScrutineeringScreen } from '../Scrutineering/Screen.tsx';
import type { RecordsToOpen } from '../Season/OpenPoint.tsx';
import { SeasonScreen } from '../Season/Screen.tsx';
import { Rail } from './Rail.tsx';
import { placeOfKey, type Place } from './places.ts';
import styles from './Shell.module.css';
import { TopBar } from './TopBar.tsx';

/** The frame round the screens: where one is, what the pads are, and the keys. */
export const Shell = (): ReactElement => {
  const view = useView((whole) => whole);
  const [place, setPlace] = useState<Place>('balance');
  const [garagePart, setGaragePart] = useState<GaragePart>('cars');
  const [opened, setOpened] = useState<RecordsToOpen | null>(null);
  const [help, setHelp] = useState<HelpPart | null>(null);
  const [panelOpen, setPanelOpen] = useState(false);
  const main = useRef<HTMLElement>(null);
  useTheme(view.state?.settings.theme ?? 'as the system');

  const go = (next: Place): void => {
    setPlace(next);
    setOpened(null);
    setPanelOpen(false);
    main.current?.focus();
  };
  useEffect(() => main.current?.focus(), []);
  useFreeKeys({
    ...Object.fromEntries(
      Array.from({ length: 9 }, (_, index) => String(index + 1)).map((key) => [
        key,
        () => {
          const next = placeOfKey(key);
          if (next) go(next);
          return next !== null;
        },
      ]),
    ),
    '?': () => setHelp('keys'),
    Escape: () => setPanelOpen(false),
  });

  const screen = (): ReactElement => {
    switch (place) {
      case 'patch':
        return <FlatPatchScreen view={view} />;
      case 'pads':
        return <PadsScreen view={view} />;
      case 'balance':
        return <BalanceScreen view={view} panelOpen={panelOpen} onPanelOpen={setPanelOpen} />;
      case 'adjust':
        return <AdjustScreen view={view} />;
      case 'measure':
        return <MeasureScreen view={view} recordId={opened?.recordId ?? null} />;
      case 'compare':
        return <CompareScreen view={view} opened={opened} />;
      case 'scrutineering':
        return <ScrutineeringScreen view={view} />;
      case 'season':
        return (
          <SeasonScreen
            view={view}
            onOpenRecords={(records) => {
              go(records.beforeId === null ? 'measure' : 'compare');
              setOpened(records);
            }}
          />
        );
      case 'garage':
        return <GarageScreen view={view} part={garagePart} onPart={setGaragePart} />;
    }
  };
  return (
    <div className={styles['shell']}>
      <Rail
        place={place}
        onGo={go}
        view={view}
        onSettings={() => {
          setGaragePart('settings');
          go('garage');
        }}
        onHelp={() => setHelp('wrong')}
      />
      <TopBar
        view={view}
        showsPanel={place === 'balance' && (view.state?.source ?? null) !== null}
        onPanel={() => setPanelOpen((open) => !open)}
        walk={
          view.state?.practice ? <WalkButton runs={view.state.practice.runs} onGo={go} /> : null
        }
      />
      {view.state?.practice ? <PracticeWalk state={view.state} place={place} onGo={go} /> : null}
      <main ref={main} className={styles['main']} tabIndex={-1} data-free-focus="">
        {screen()}
      </main>
      <Help part={help} onPart={setHelp} />
    </div>
  );
};
