/** Seconds that a live trace shows. */
export const TRACE_SPAN = 20;
