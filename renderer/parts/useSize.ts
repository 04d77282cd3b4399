import { useLayoutEffect, useRef, useState, type RefObject } from 'react';

export interface Size {
  readonly width: number;
  readonly height: number;
}

/** The size of an element in whole CSS pixels, followed as it changes; null until it was measured. */
export const useSize = <E extends HTMLElement>(): readonly [RefObject<E | null>, Size | null] => {
  const element = useRef<E>(null);
  const [size, setSize] = useState<Size | null>(null);
  useLayoutEffect(() => {
    const watched = element.current;
    if (!watched) return undefined;
    const measure = (): void => {
      const width = Math.floor(watched.clientWidth);
      const height = Math.floor(watched.clientHeight);
      setSize((last) =>
        last?.width === width && last.height === height ? last : { width, height },
      );
    };
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(watched);
    return () => observer.disconnect();
  }, []);
  return [element, size];
};
