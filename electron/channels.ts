/** Names on the desktop window's inter-process channels, shared by the main process and the preload. */

/** The window asks for a port to the bench; the answer comes on the same channel with the port. */
export const BENCH_PORT = 'bench port';
