/** The part of Electron's API that Millpond uses, over a real Chromium and plain Node processes. */

export { app } from './app.ts';
export { BrowserWindow } from './browserWindow.ts';
export { ipcMain } from './ipcMain.ts';
export { MessageChannelMain } from './messagePorts.ts';
export { protocol } from './protocol.ts';
export { session } from './session.ts';
export { crashReporter, dialog, Menu, screen, shell } from './system.ts';
export { utilityProcess } from './utilityProcess.ts';
