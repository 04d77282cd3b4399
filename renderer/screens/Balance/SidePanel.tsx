import { useState, type ReactElement } from 'react';
import { Tab, TabList, TabPanel, Tabs } from 'react-aria-components/Tabs';
import { checkCarState } from '../../../core/sheet/carState.ts';
import type { BenchState, Frame } from '../../../core/contract/events.ts';
import { balanceWorked } from '../../../core/help/balanceWorked.ts';
import { HowWorkedOut } from '../../parts/HowWorkedOut.tsx';
import { cx } from '../../parts/cx.ts';
import { PushButton } from '../../parts/PushButton.tsx';
import { useFrame } from '../../live/useLive.tsx';
import { LogPanel } from './LogPanel.tsx';
import { OutingPanel } from './OutingPanel.tsx';
import { StatePanel } from './StatePanel.tsx';
import styles from './SidePanel.module.css';

export interface SidePanelProps {
  readonly state: BenchState;
  /** Only where it is a drawer: in narrow windows. */
  readonly isOpen: boolean;
  readonly onClose: () => void;
  readonly note: string;
  readonly onNote: (note: string) => void;
}

const settledFrame = (frame: Frame | null): Frame | null =>
  frame?.stillness === 'settled' ? frame : null;
const sameSecond = (a: Frame | null, b: Frame | null): boolean =>
  a === b || (a !== null && b !== null && Math.floor(a.settledFor) === Math.floor(b.settledFor));

/** Beside the plan: what was captured, the state of the car, and the outing. */
export const SidePanel = ({
  state,
  isOpen,
  onClose,
  note,
  onNote,
}: SidePanelProps): ReactElement => {
  const [tab, setTab] = useState('log');
  const settled = useFrame(settledFrame, sameSecond);
  const open = checkCarState(state.carState, state.agreedCarState).length;
  return (
    <aside
      className={cx(styles['panel'], isOpen && styles['open'])}
      aria-label="Log, state of the car, outing"
      onKeyDown={(event) => {
        if (event.key === 'Escape' && !event.defaultPrevented) onClose();
      }}
    >
      <Tabs
        className={cx(styles['tabs'])}
        selectedKey={tab}
        onSelectionChange={(key) => setTab(String(key))}
      >
        <div className={styles['row']}>
          <TabList className={cx(styles['list'])} aria-label="Panels">
            <Tab id="log" className={cx(styles['tab'])}>
              Log {state.captures.length > 0 ? state.captures.length : ''}
            </Tab>
            <Tab id="state" className={cx(styles['tab'])}>
              Car state {open > 0 ? <span className={styles['count']}>{open}</span> : null}
            </Tab>
            <Tab id="outing" className={cx(styles['tab'])}>
              Outing
            </Tab>
          </TabList>
          <div className={styles['close']}>
            <PushButton look="quiet" aria-label="Close the panel" onPress={onClose}>
              ×
            </PushButton>
          </div>
        </div>
        <TabPanel id="log" className={cx(styles['body'])}>
          <LogPanel state={state} note={note} onNote={onNote} />
          <HowWorkedOut worked={() => balanceWorked(state, settled)} />
        </TabPanel>
        <TabPanel id="state" className={cx(styles['body'])}>
          <StatePanel state={state} />
        </TabPanel>
        <TabPanel id="outing" className={cx(styles['body'])}>
          <OutingPanel state={state} />
        </TabPanel>
      </Tabs>
    </aside>
  );
};
