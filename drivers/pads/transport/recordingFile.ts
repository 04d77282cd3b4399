import { readFile } from 'node:fs/promises';

/**
 * Reads a recording's text from a file; the one place here that knows of files. Rejects with the
 * system's error where it cannot be read. The format is `recording.ts`'s business.
 */
export const readRecordingFile = (file: string): Promise<string> => readFile(file, 'utf8');
