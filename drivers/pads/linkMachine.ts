import type { LinkPhase } from '../../core/bench/ports.ts';
import type { FaultCode } from '../../core/faults.ts';
import { WAITS } from './deadlines.ts';

/**
 * The link to one pad as a pure machine: state and event in, state and effects out. It knows the
 * order of things and the deadlines; it opens nothing, waits for nothing and reads no clock.
 *
 *   found → waiting → connecting → discovering → subscribing → live
 *   any of these → lost → backing off → waiting …      discovering → refused
 *
 * Every state but `found`, `waiting`, `live` and a refusal as a twin has a timer. The three wait for
 * others who have deadlines of their own: the radio, whose every connect is bounded, and the watch
 * for silence of a live pad, which the session keeps and which reports `failed`.
 */

export interface LinkState {
  readonly phase: LinkPhase;
  /** Why the link is lost, backing off or refused; null otherwise. */
  readonly why: FaultCode | null;
  /** Whether the radio can be used at all. */
  readonly radioOn: boolean;
}

export type LinkEvent =
  | { readonly kind: 'radio'; readonly on: boolean }
  /** The device was heard. */
  | { readonly kind: 'heard' }
  /** The radio is ours: the connect has begun. */
  | { readonly kind: 'turn came' }
  | { readonly kind: 'connected' }
  | { readonly kind: 'introduced' }
  | { readonly kind: 'subscribed' }
  /** The link ended, however it ended. */
  | { readonly kind: 'ended' }
  /** A step failed, or a live pad fell silent. */
  | { readonly kind: 'failed'; readonly why: FaultCode }
  /** The pad was understood well enough to know that it cannot be used. */
  | { readonly kind: 'refused'; readonly why: FaultCode }
  | { readonly kind: 'closed' }
  /** The current state's timer ran out. */
  | { readonly kind: 'time up' }
  /** The other pad of the same serial number is gone. */
  | { readonly kind: 'serial free' };

export type LinkEffect =
  | { readonly do: 'queue for radio' }
  | { readonly do: 'leave radio' }
  | { readonly do: 'introduce' }
  | { readonly do: 'subscribe' }
  | { readonly do: 'close' }
  /** Runs the state's one timer; any older one is cancelled by the change of state. */
  | { readonly do: 'wait'; readonly seconds: number }
  /** As `wait`, for the next duration of the back-off. */
  | { readonly do: 'wait back-off' }
  /** Waits no less than this, and no more than what is left. */
  | { readonly do: 'shorten back-off'; readonly least: number }
  | { readonly do: 'fault'; readonly code: FaultCode }
  | { readonly do: 'faults over' };

export interface LinkStep {
  readonly state: LinkState;
  readonly effects: readonly LinkEffect[];
}

export const FIRST_LINK_STATE: LinkState = { phase: 'found', why: null, radioOn: false };

/** Refusals that the pad's owner may cure, and after how long they are looked at again, s. */
const REFUSED_AGAIN: Partial<Record<FaultCode, number>> = {
  'pad-not-understood': WAITS.refusedAgain,
  'pad-serial-missing': WAITS.refusedAgain,
};

const to = (
  state: LinkState,
  phase: LinkPhase,
  effects: readonly LinkEffect[],
  why: FaultCode | null = null,
): LinkStep => ({ state: { ...state, phase, why }, effects });

const stay = (state: LinkState): LinkStep => ({ state, effects: [] });

const queue = (state: LinkState): LinkStep => to(state, 'waiting', [{ do: 'queue for radio' }]);

const lose = (state: LinkState, why: FaultCode): LinkStep =>
  to(
    state,
    'lost',
    [{ do: 'fault', code: why }, { do: 'close' }, { do: 'wait', seconds: WAITS.closing }],
    why,
  );

const backAway = (state: LinkState): LinkStep =>
  to(state, 'backing off', [{ do: 'wait back-off' }], state.why);

const isLinked = (phase: LinkPhase): boolean =>
  phase === 'discovering' || phase === 'subscribing' || phase === 'live';

const radioChanged = (before: LinkState, on: boolean): LinkStep => {
  const state = { ...before, radioOn: on };
  if (before.radioOn === on || state.phase === 'refused') return stay(state);
  if (on) return state.phase === 'found' ? queue(state) : stay(state);
  switch (state.phase) {
    case 'found':
      return stay(state);
    case 'waiting':
    case 'connecting':
      return to(state, 'found', [{ do: 'leave radio' }]);
    default:
      return to(state, 'found', [{ do: 'close' }]);
  }
};

const timeUp = (state: LinkState): LinkStep => {
  switch (state.phase) {
    case 'discovering':
    case 'subscribing':
      return lose(state, 'pad-step-late');
    case 'lost':
      return backAway(state);
    case 'backing off':
    case 'refused':
      return state.radioOn ? queue(state) : to(state, 'found', []);
    default:
      return stay(state);
  }
};

/** One step of the link. Events that mean nothing in the state change nothing. */
export const stepLink = (state: LinkState, event: LinkEvent): LinkStep => {
  const { phase } = state;
  switch (event.kind) {
    case 'radio':
      return radioChanged(state, event.on);
    case 'heard':
      if (phase === 'found' && state.radioOn) return queue(state);
      return phase === 'backing off'
        ? { state, effects: [{ do: 'shorten back-off', least: WAITS.backOffLeast }] }
        : stay(state);
    case 'turn came':
      return phase === 'waiting' ? to(state, 'connecting', []) : stay(state);
    case 'connected':
      return phase === 'connecting'
        ? to(state, 'discovering', [
            { do: 'introduce' },
            { do: 'wait', seconds: WAITS.introduction },
          ])
        : stay(state);
    case 'introduced':
      return phase === 'discovering'
        ? to(state, 'subscribing', [
            { do: 'subscribe' },
            { do: 'wait', seconds: WAITS.subscribing },
          ])
        : stay(state);
    case 'subscribed':
      return phase === 'subscribing' ? to(state, 'live', [{ do: 'faults over' }]) : stay(state);
    case 'ended':
      if (phase === 'lost') return backAway(state);
      return isLinked(phase) ? lose(state, 'pad-lost') : stay(state);
    case 'failed':
      if (phase === 'waiting' || phase === 'connecting') {
        const failed = to(state, 'backing off', [], event.why);
        return {
          state: failed.state,
          effects: [{ do: 'fault', code: event.why }, { do: 'wait back-off' }],
        };
      }
      return isLinked(phase) ? lose(state, event.why) : stay(state);
    case 'refused': {
      if (!isLinked(phase)) return stay(state);
      const again = REFUSED_AGAIN[event.why];
      const effects: LinkEffect[] = [{ do: 'fault', code: event.why }, { do: 'close' }];
      if (again !== undefined) effects.push({ do: 'wait', seconds: again });
      return to(state, 'refused', effects, event.why);
    }
    case 'closed':
      return phase === 'lost' ? backAway(state) : stay(state);
    case 'time up':
      return timeUp(state);
    case 'serial free':
      return phase === 'refused' && state.why === 'pad-serial-twice' && state.radioOn
        ? queue(state)
        : stay(state);
  }
};
