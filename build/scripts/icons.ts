import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { chromium } from 'playwright-core';
import { icnsFile, icoFile, type Picture } from './iconFiles.ts';
import { rootFolder } from './prepare.mjs';

/** `npm run icons`: draws the mark in every size that a system wants, by a Chromium of this machine. */

const SIDES = [16, 24, 32, 48, 64, 128, 256, 512, 1024];

const folder = path.join(rootFolder, 'build/icons');
const svg = readFileSync(path.join(folder, 'millpond.svg'), 'utf8');
const browser = await chromium.launch({
  executablePath: process.env['CHROME_PATH'] ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu'],
});
const pictures: Picture[] = [];
for (const side of SIDES) {
  const page = await browser.newPage({ viewport: { width: side, height: side } });
  await page.setContent(
    `<style>html,body{margin:0}svg{display:block;width:${side}px;height:${side}px}</style>${svg}`,
  );
  pictures.push({ side, png: await page.screenshot({ omitBackground: true }) });
  await page.close();
}
await browser.close();

mkdirSync(path.join(folder, 'linux'), { recursive: true });
for (const { side, png } of pictures)
  if (side <= 512) writeFileSync(path.join(folder, 'linux', `${side}x${side}.png`), png);
writeFileSync(path.join(folder, 'icon.ico'), icoFile(pictures.filter(({ side }) => side <= 256)));
writeFileSync(path.join(folder, 'icon.icns'), icnsFile(pictures));
