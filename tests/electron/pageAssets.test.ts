import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { loadPageAssets, plainAnswer, type PageAssets } from '../../electron/pageAssets.ts';
import { contentPolicy, FIXED_HEADERS, NOTHING_POLICY } from '../../electron/security.ts';
import { INDEX, writeBuiltPage } from './builtPage.ts';

let dir = '';
let assets: PageAssets;
beforeAll(() => {
  dir = mkdtempSync(path.join(os.tmpdir(), 'millpond-assets-'));
  assets = loadPageAssets(writeBuiltPage(dir));
});
afterAll(() => {
  rmSync(dir, { recursive: true });
});

test('the page carries this response’s nonce everywhere, and its policy too', () => {
  expect(assets.answer('/', 'abc+/=')).toEqual({
    status: 200,
    headers: {
      ...FIXED_HEADERS,
      'Content-Security-Policy': contentPolicy('abc+/='),
      'Content-Type': 'text/html; charset=utf-8',
      'Cache-Control': 'no-store',
    },
    body: INDEX.replaceAll('__CSP_NONCE__', 'abc+/='),
  });
});

describe('files', () => {
  test.each([
    ['/assets/index-B1a2c3d4.js', 'text/javascript; charset=utf-8', true],
    ['/assets/style-Zz9_-x12.css', 'text/css; charset=utf-8', true],
    ['/assets/b612-Abcdefgh.woff2', 'font/woff2', true],
    ['/plain.svg', 'image/svg+xml', false],
  ])('%s is %s', (pathname, type, forever) => {
    const { status, headers } = assets.answer(pathname, 'n');
    expect({ status, headers }).toEqual({
      status: 200,
      headers: {
        ...FIXED_HEADERS,
        'Content-Security-Policy': NOTHING_POLICY,
        'Content-Type': type,
        'Cache-Control': forever ? 'private, max-age=31536000, immutable' : 'no-cache',
      },
    });
  });

  test.each([
    '',
    '/index.html',
    '/assets',
    '/assets/',
    '/assets/index-B1a2c3d4.js.map',
    '/.hidden',
    '/run.sh',
    '/linked.txt',
    '/secret.txt',
    '/../secret.txt',
    '/assets/../../secret.txt',
    '/..%2fsecret.txt',
    '/%2e%2e/secret.txt',
    '/..\\secret.txt',
    '/assets\\index-B1a2c3d4.js',
    '/plain.svg/',
    '/plain.svg%00',
    '//plain.svg',
    '/__proto__',
    '/constructor',
  ])('there is nothing at %j', (pathname) => {
    expect(assets.answer(pathname, 'n')).toEqual(plainAnswer(404, 'There is nothing here.'));
  });
});

test('a page that was not built is said so', () => {
  expect(() => loadPageAssets(path.join(dir, 'nowhere'))).toThrow('cannot be read');
  const empty = path.join(dir, 'empty');
  mkdirSync(empty);
  writeFileSync(path.join(empty, 'a.js'), '');
  expect(() => loadPageAssets(empty)).toThrow('There is no built page');
});
