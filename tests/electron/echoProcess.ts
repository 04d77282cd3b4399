import { createGate } from '../../electron/gate.ts';
import { openParentLink } from '../../electron/parentLink.ts';

/** Stands in for the bench process: echoes text with its arguments, and ends as it is told. */
const gate = createGate(() => undefined);
const link = openParentLink(process, {
  message: (message) => {
    const admitted = gate.admit('to bench', { is: 'process' }, message);
    if (!admitted.ok) return;
    if (admitted.payload.kind === 'stop') link?.close();
    if (admitted.payload.kind !== 'text') return;
    const { screen, text } = admitted.payload;
    if (text === '{"kind":"crash"}') process.exit(3);
    link?.send({ kind: 'text', screen, text: JSON.stringify([text, process.argv.slice(2)]) });
  },
  gone: () => process.exit(4),
});
link?.send({ kind: 'ready' });
