import { useEffect, useRef } from 'react';

/** Marks what may hold the focus without taking keys for itself: the body of a screen. */
const FREE_FOCUS = 'data-free-focus';

/** True when no field or control has the focus; gauges that type are keyboards too. */
const isFree = (): boolean => {
  const { activeElement } = document;
  return (
    activeElement === null ||
    activeElement === document.body ||
    activeElement.hasAttribute(FREE_FOCUS)
  );
};

/**
 * Keys that work while nothing else has the focus, by `event.key`. A handler that answers false
 * leaves the key to the browser.
 */
export const useFreeKeys = (keys: Readonly<Record<string, () => boolean | void>>): void => {
  const latest = useRef(keys);
  useEffect(() => {
    latest.current = keys;
  });
  useEffect(() => {
    const pressed = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || event.repeat) return;
      if (event.ctrlKey || event.metaKey || event.altKey || !isFree()) return;
      const act = latest.current[event.key];
      if (act && act() !== false) event.preventDefault();
    };
    window.addEventListener('keydown', pressed);
    return () => window.removeEventListener('keydown', pressed);
  }, []);
};
