import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import { mkdirSync, readFileSync, renameSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';

/**
 * The secret that a browser keeps in its cookie. It lies in the data folder, readable by its owner
 * only, so that reloads and restarts of the page need no new address.
 */

const FILE = 'page-secret';
/** 32 bytes in base64url. */
const FORM = /^[A-Za-z0-9_-]{43}$/;

/** 256 random bits in base64url. */
export const newSecret = (): string => randomBytes(32).toString('base64url');

const readSecret = (file: string): string | null => {
  try {
    const secret = readFileSync(file, 'utf8').trim();
    // Windows has no such bits; the folder's own access list protects it there.
    const open = process.platform !== 'win32' && (statSync(file).mode & 0o077) !== 0;
    // What others could read is a secret no longer.
    return FORM.test(secret) && !open ? secret : null;
  } catch {
    return null;
  }
};

/** The data folder's secret; a new one where there is none, or where it is no secret any more. */
export const pageSecret = (dataDir: string): string => {
  const file = path.join(dataDir, FILE);
  const known = readSecret(file);
  if (known !== null) return known;
  mkdirSync(dataDir, { recursive: true, mode: 0o700 });
  const secret = newSecret();
  const fresh = `${file}.${process.pid}`;
  writeFileSync(fresh, secret, { mode: 0o600 });
  renameSync(fresh, file);
  return secret;
};

/** Whether two secrets are equal, in a time that does not tell how much of them is. */
export const isSame = (one: string, other: string): boolean => {
  const digest = (text: string): Buffer => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(one), digest(other));
};

/**
 * Name of the cookie. Cookies do not tell ports apart, so it names the data folder's secret (by
 * hash): two pages of one computer do not take each other's.
 */
export const cookieName = (secret: string): string =>
  `millpond-${createHash('sha256').update(`cookie name of ${secret}`).digest('hex').slice(0, 12)}`;
