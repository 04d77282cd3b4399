import { copyFileSync, mkdirSync, readdirSync, rmSync } from 'node:fs';
import path from 'node:path';
import { giveUp, rootFolder } from './prepare.mjs';
import { runTool } from './tools.ts';

/**
 * `npm run pictures:readme`: walks the practice walk in a browser and puts a picture of every screen,
 * as that leaves them, into build/pictures, where the README shows them.
 */
const FROM = path.join(rootFolder, '.tmp/pictures');
const TO = path.join(rootFolder, 'build/pictures');

const code = await runTool('tests', ['tests/browser/practiceWalk.test.ts']);
if (code !== 0)
  giveUp('The practice walk failed: the reason stands above, the pictures stay as they were.');
rmSync(TO, { recursive: true, force: true });
mkdirSync(TO, { recursive: true });
const pictures = readdirSync(FROM).filter((name) => /^screen-[a-z]+\.png$/u.test(name));
for (const name of pictures) copyFileSync(path.join(FROM, name), path.join(TO, name));
console.log(`${pictures.length} pictures in build/pictures`);
