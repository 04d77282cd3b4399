/** The figures along an axis. */
export const TICK = { fontSize: 11, fill: 'var(--ink-soft)' };
