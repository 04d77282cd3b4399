import { useEffect, useRef, useState, type ReactElement } from 'react';
import { useFreeKeys } from '../../freeKeys.ts';
import { useView } from '../../live/useLive.tsx';
import { useTheme } from '../../theme/useTheme.ts';
import { AdjustScreen } from '../Adjust/Screen.tsx';
import { BalanceScreen } from '../Balance/Screen.tsx';
import { CompareScreen } from '../Compare/Screen.tsx';
import { FlatPatchScreen } from '../FlatPatch/Screen.tsx';
import { GarageScreen } from '../Garage/Screen.tsx';
import { MeasureScreen } from '../Measure/Screen.tsx';
import { PadsScreen } from '../Pads/Screen.tsx';
import { ScrutineeringScreen } from '../Scrutineering/Screen.tsx';
import { SeasonScreen } from '../Season/Screen.tsx';
import { KeysHelp } from './KeysHelp.tsx';
import { Rail } from './Rail.tsx';
import { placeOfKey, type Place } from './places.ts';
import styles from './Shell.module.css';
import { TopBar } from './TopBar.tsx';

/** The frame round the screens: where one is, what the pads are, and the keys. */
export const Shell = (): ReactElement => {
  const view = useView((whole) => whole);
  const [place, setPlace] = useState<Place>('balance');
  const [helpOpen, setHelpOpen] = useState(false);
  const [panelOpen, setPanelOpen] = useState(false);
  const main = useRef<HTMLElement>(null);
  useTheme(view.state?.settings.theme ?? 'as the system');

  const go = (next: Place): void => {
    setPlace(next);
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
    '?': () => setHelpOpen(true),
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
        return <MeasureScreen view={view} />;
      case 'compare':
        return <CompareScreen view={view} />;
      case 'scrutineering':
        return <ScrutineeringScreen view={view} />;
      case 'season':
        return <SeasonScreen view={view} />;
      case 'garage':
        return <GarageScreen view={view} />;
    }
  };
  return (
    <div className={styles['shell']} data-joined={view.joined}>
      <Rail place={place} onGo={go} view={view} onHelp={() => setHelpOpen(true)} />
      <TopBar
        view={view}
        showsPanel={place === 'balance' && (view.state?.source ?? null) !== null}
        onPanel={() => setPanelOpen((open) => !open)}
      />
      <main ref={main} className={styles['main']} tabIndex={-1} data-free-focus="">
        {screen()}
      </main>
      <KeysHelp isOpen={helpOpen} onOpenChange={setHelpOpen} />
    </div>
  );
};
