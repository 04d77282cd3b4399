import type { EventEmitter } from 'node:events';

/** An event that its listeners may stop. */
export interface Stoppable {
  readonly defaultPrevented: boolean;
  preventDefault(): void;
}

export const stoppable = <Details extends object>(details: Details): Details & Stoppable => {
  let prevented = false;
  return Object.defineProperties(details, {
    defaultPrevented: { get: () => prevented },
    preventDefault: { value: () => void (prevented = true) },
  }) as Details & Stoppable;
};

/** Fires an event whose first argument can be stopped; true where nobody stopped it. */
export const goesOn = (
  on: EventEmitter,
  name: string,
  details: object = {},
  ...more: readonly unknown[]
): boolean => {
  const event = stoppable(details);
  on.emit(name, event, ...more);
  return !event.defaultPrevented;
};
