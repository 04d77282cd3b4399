import { EventEmitter } from 'node:events';

/** Listeners take an event with `senderFrame`, then the page's values. */
export const ipcMain = new EventEmitter();
