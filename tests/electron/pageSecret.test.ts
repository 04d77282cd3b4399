import {
  chmodSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { cookieName, isSame, newSecret, pageSecret } from '../../electron/pageSecret.ts';

let dir = '';
beforeEach(() => {
  dir = mkdtempSync(path.join(os.tmpdir(), 'millpond-secret-'));
});
afterEach(() => {
  rmSync(dir, { recursive: true });
});

const file = (): string => path.join(dir, 'data', 'page-secret');

test('is made once and read back afterwards', () => {
  const secret = pageSecret(path.join(dir, 'data'));
  expect(secret).toMatch(/^[A-Za-z0-9_-]{43}$/);
  expect(readFileSync(file(), 'utf8')).toBe(secret);
  expect(readdirSync(path.join(dir, 'data'))).toEqual(['page-secret']);
  expect(pageSecret(path.join(dir, 'data'))).toBe(secret);
});

test.each(['', 'short', 'x'.repeat(44), `${'x'.repeat(42)}\u00e9`])(
  'a file that holds %j is no secret: a new one is made',
  (content) => {
    const first = pageSecret(path.join(dir, 'data'));
    writeFileSync(file(), content);
    const second = pageSecret(path.join(dir, 'data'));
    expect(second).toMatch(/^[A-Za-z0-9_-]{43}$/);
    expect(second).not.toBe(first);
  },
);

test.runIf(process.platform !== 'win32')('the folder and the file are the owner’s only', () => {
  pageSecret(path.join(dir, 'data'));
  const modes = [path.join(dir, 'data'), file()].map((each) => statSync(each).mode & 0o777);
  expect(modes).toEqual([0o700, 0o600]);
});

test.runIf(process.platform !== 'win32')('what others could read is replaced', () => {
  const first = pageSecret(path.join(dir, 'data'));
  chmodSync(file(), 0o644);
  expect(pageSecret(path.join(dir, 'data'))).not.toBe(first);
  expect(statSync(file()).mode & 0o777).toBe(0o600);
});

test('secrets are compared whole, and each names its own cookie', () => {
  const [one, other] = [newSecret(), newSecret()];
  expect([isSame(one, one), isSame(one, other), isSame(one, ''), isSame(one, `${one}x`)]).toEqual([
    true,
    false,
    false,
    false,
  ]);
  expect(cookieName(one)).toMatch(/^millpond-[0-9a-f]{12}$/);
  expect(cookieName(one)).not.toBe(cookieName(other));
  expect(one).not.toContain(cookieName(one).slice(9));
});
