import '@fontsource/b612/latin-400.css';
import '@fontsource/b612/latin-700.css';
import './theme/tokens.css';
import './theme/base.css';
import { createRoot } from 'react-dom/client';
import { parseWithoutEval } from '../core/contract/parseWithoutEval.ts';
import { findLink } from './bridge.ts';
import { createBenchClient } from './live/benchClient.ts';
import { createFrameLoop, windowFrames } from './live/frameLoop.ts';
import { LiveProvider } from './live/useLive.tsx';
import { Shell } from './screens/Shell/Shell.tsx';

parseWithoutEval();

const client = createBenchClient(findLink(), windowFrames.now, (why) =>
  reportError(new Error(why)),
);
const loop = createFrameLoop(windowFrames);
// First in the loop: ages are judged before anything is drawn.
loop.add(client.live.judge);

const tellVisible = (): void => {
  client.setVisible(document.visibilityState === 'visible');
  client.live.judge();
};
document.addEventListener('visibilitychange', tellVisible);
if (document.visibilityState === 'hidden') tellVisible();
window.addEventListener('pagehide', (event) => {
  if (!event.persisted) client.close();
});

const root = document.getElementById('root');
if (!root) throw new Error('the page has no #root');
createRoot(root).render(
  <LiveProvider client={client} loop={loop}>
    <Shell />
  </LiveProvider>,
);
