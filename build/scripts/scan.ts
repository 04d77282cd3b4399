import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { buildIfChanged } from './buildIfChanged.ts';
import { giveUp, passOn, rootFolder } from './prepare.mjs';

/**
 * `npm run scan`: an independent static scan of the built Electron parts. The scanner is fetched by
 * npx at this version and is not in the lock; its exit code says little, so its table is judged here.
 * Every finding must have its reason below; one without ends with code 1.
 */
const SCANNER = '@doyensec/electronegativity@1.10.3';

/** Why a finding is not one, by the check that makes it. */
const REASONS: Readonly<Record<string, string>> = {
  CSP_GLOBAL_CHECK:
    'The policy is a header of every answer, not a tag: tests/electron/{security,pageAssets}.test.ts.',
  AUXCLICK_JS_CHECK:
    'Every new window is denied, however it is asked for: tests/browser/desktop.test.ts.',
  CONTEXT_ISOLATION_JS_CHECK:
    'On; the scanner does not follow windowOptions(): compared whole in tests/electron/security.test.ts.',
  SANDBOX_JS_CHECK:
    'On; the scanner does not follow windowOptions(): compared whole in tests/electron/security.test.ts.',
};

const versionOf = (name: string): string => {
  const file = path.join(rootFolder, 'node_modules', name, 'package.json');
  return (JSON.parse(readFileSync(file, 'utf8')) as { readonly version: string }).version;
};

/** Fields of a line of CSV; quotes are doubled within quotes (RFC 4180). */
const fieldsOf = (line: string): readonly string[] =>
  [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/gu)].map(
    ([, quoted, plain]) => quoted?.replaceAll('""', '"') ?? plain ?? '',
  );

const failed = await buildIfChanged(rootFolder);
if (failed !== null) giveUp(failed);
const folder = mkdtempSync(path.join(tmpdir(), 'millpond-scan-'));
const table = path.join(folder, 'found.csv');
const input = path.join(rootFolder, 'dist/electron');
// It asks the network for newer lists first and sometimes falls over that.
for (let tries = 0; tries < 3 && !existsSync(table); tries += 1)
  await passOn('npx', [
    ...['--yes', SCANNER, '--relative', '--input', input, '--output', table],
    ...['--electron-version', versionOf('electron')],
  ]);
let text = '';
try {
  text = readFileSync(table, 'utf8');
} catch {
  giveUp('The scanner wrote no table: nothing was scanned.');
}
rmSync(folder, { recursive: true, force: true });
const found = text
  .split(/\r?\n/u)
  .slice(1)
  .filter((line) => line !== '')
  .map(fieldsOf);
let open = 0;
for (const [check = '', severity, , file, location] of found) {
  const reason = REASONS[check];
  if (reason === undefined) open += 1;
  console.log(
    `${check} (${severity}) ${file} ${location}\n    ${reason ?? 'OPEN: no reason given'}`,
  );
}
console.log(`${found.length} findings of ${SCANNER}, ${open} open`);
process.exitCode = open > 0 ? 1 : 0;
