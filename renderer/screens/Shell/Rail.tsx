import type { ReactElement } from 'react';
import { Button } from 'react-aria-components/Button';
import type { BenchView } from '../../live/benchClient.ts';
import { cx } from '../../parts/cx.ts';
import { PLACES, type Place } from './places.ts';
import { RailMark, RailWords, useRailStandings } from './RailMark.tsx';
import styles from './Rail.module.css';

const Mark = (): ReactElement => (
  <svg className={styles['mark']} viewBox="0 0 48 40" role="img" aria-label="Millpond">
    <path d="M5 16h38" />
    <path d="M13 25h22M19 32h10" className={styles['reflection']} />
  </svg>
);

const ICONS: Readonly<Record<Place, ReactElement>> = {
  pads: (
    <svg viewBox="0 0 28 28" aria-hidden="true">
      <path d="M4 3h7v8H4zM17 3h7v8h-7zM4 17h7v8H4zM17 17h7v8h-7z" />
    </svg>
  ),
  patch: (
    <svg viewBox="0 0 28 28" aria-hidden="true">
      <path d="M3 20h22M6 20v-4M22 20v-4M3 9l22 3" />
    </svg>
  ),
  scrutineering: (
    <svg viewBox="0 0 28 28" aria-hidden="true">
      <path d="M4 4h20v14H4zM8 13l4 4 8-9M9 24h10" />
    </svg>
  ),
  season: (
    <svg viewBox="0 0 28 28" aria-hidden="true">
      <path d="M4 20l5-6 5 3 5-8 5 4M4 24h20" />
    </svg>
  ),
  garage: (
    <svg viewBox="0 0 28 28" aria-hidden="true">
      <path d="M3 12 14 4l11 8v13H3zM8 25V15h12v10M8 20h12" />
    </svg>
  ),
  adjust: (
    <svg viewBox="0 0 28 28" aria-hidden="true">
      <path d="M14 3v22M8 9l6-6 6 6M7 15h14M7 20h14" />
    </svg>
  ),
  measure: (
    <svg viewBox="0 0 28 28" aria-hidden="true">
      <path d="M2.5 18.5 18.5 2.5l7 7-16 16zM7 14l3 3M11 10l4 4M15 6l3 3" />
    </svg>
  ),
  compare: (
    <svg viewBox="0 0 28 28" aria-hidden="true">
      <path d="M4 9h9M4 14h9M4 19h9M17 7v14M17 7l-3 4M17 7l3 4M23 21V7" />
    </svg>
  ),
  balance: (
    <svg viewBox="0 0 28 28" aria-hidden="true">
      <path d="M2.5 13.5 25.5 9M14 12l5 12H9z" />
    </svg>
  ),
};

export interface RailProps {
  readonly place: Place;
  readonly onGo: (place: Place) => void;
  readonly view: BenchView;
  /** To the settings, which are a part of the Garage. */
  readonly onSettings: () => void;
  readonly onHelp: () => void;
}

/** The job in its order, with how each answer stands. */
export const Rail = ({ place, onGo, view, onSettings, onHelp }: RailProps): ReactElement => {
  const standings = useRailStandings(view);
  return (
    <nav className={styles['rail']} aria-label="Screens">
      <Mark />
      <ul>
        {PLACES.map((each) => {
          const standing = standings[each.place];
          return (
            <li key={each.place}>
              <Button
                className={cx(styles['place'])}
                aria-current={each.place === place ? 'page' : 'false'}
                aria-keyshortcuts={String(each.number)}
                {...(standing ? { 'aria-describedby': `stands-${each.place}` } : {})}
                onPress={() => onGo(each.place)}
              >
                {ICONS[each.place]}
                <span>
                  <small>{each.number}</small> {each.text}
                </span>
                <RailMark standing={standing} />
              </Button>
              {standing ? <RailWords id={`stands-${each.place}`} standing={standing} /> : null}
            </li>
          );
        })}
      </ul>
      <div className={styles['foot']}>
        <Button className={cx(styles['place'])} onPress={onSettings}>
          <svg viewBox="0 0 28 28" aria-hidden="true">
            <path d="M3 9h9M20 9h5M3 19h5M16 19h9M12 5h8v8h-8zM8 15h8v8H8z" />
          </svg>
          <span>Settings</span>
        </Button>
        <Button className={cx(styles['place'])} onPress={onHelp}>
          <svg viewBox="0 0 28 28" aria-hidden="true">
            <path d="M14 3a11 11 0 1 1 0 22 11 11 0 0 1 0-22zM10 11.5a4 4 0 1 1 5.5 3.7c-1 .5-1.5 1.2-1.5 2.6M14 20.8v.6" />
          </svg>
          <span>Help</span>
        </Button>
      </div>
    </nav>
  );
};
