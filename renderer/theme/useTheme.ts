import { useEffect } from 'react';
import type { Settings } from '../../core/contract/settings.ts';

const NIGHT = '(prefers-color-scheme: dark)';

/** Puts the chosen theme on the page, and follows the system where that was chosen. */
export const useTheme = (theme: Settings['theme']): void => {
  useEffect(() => {
    const system = window.matchMedia(NIGHT);
    const apply = (): void => {
      const isNight = theme === 'night' || (theme === 'as the system' && system.matches);
      document.documentElement.dataset['theme'] = isNight ? 'night' : 'daylight';
    };
    apply();
    system.addEventListener('change', apply);
    return () => system.removeEventListener('change', apply);
  }, [theme]);
};
