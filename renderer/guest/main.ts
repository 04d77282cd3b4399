import './withoutEval.ts';
import '@fontsource/b612/latin-400.css';
import '@fontsource/b612/latin-700.css';
import '../theme/tokens.css';
import '../theme/base.css';
import './guest.css';
import type { GuestView } from '../../core/contract/guestView.ts';
import { createDrawing, drawDoor } from './drawGuest.ts';
import { openGuestLink } from './guestLink.ts';
import { guestShown, nextChange } from './guestShown.ts';

/** The page of a phone or tablet under the car. It shows; there is nothing on it that does anything. */

/** After so long a silence the connection is made anew, ms: a network that changed breaks none. */
const RENEW_MS = 3000;

const night = matchMedia('(prefers-color-scheme: dark)');
const setTheme = (): void => {
  document.documentElement.dataset['theme'] = night.matches ? 'night' : 'daylight';
};
night.addEventListener('change', setTheme);
setTheme();

const drawing = createDrawing();
let newest: { readonly view: GuestView; readonly at: number } | null = null;
let renewedAt = 0;
let timer: ReturnType<typeof setTimeout> | undefined;

const draw = (): void => {
  clearTimeout(timer);
  if (!newest) return;
  const now = performance.now();
  const silent = now - newest.at;
  // Unseen it is old at once: whoever looks again sees nothing that was true a while ago.
  drawing(guestShown(newest.view, document.hidden ? Math.max(silent, 1000) / 1000 : silent / 1000));
  timer = setTimeout(draw, 1000 * nextChange(newest.view, silent / 1000) + 1);
  if (silent > RENEW_MS && now - renewedAt > RENEW_MS) {
    renewedAt = now;
    link.renew();
  }
};

const link = openGuestLink((event) => {
  if (event.kind === 'view') {
    newest = { view: event.view, at: performance.now() - event.late * 1000 };
    draw();
  } else {
    newest = null;
    clearTimeout(timer);
    drawDoor(event.why);
  }
});
document.addEventListener('visibilitychange', draw);
// Another code, opened in this window: it joins from the beginning.
addEventListener('hashchange', () => location.reload());
