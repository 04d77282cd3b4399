import { build } from 'electron-builder';
import { packagerConfig } from '../electronBuilder.ts';
import { SYSTEMS } from '../shippedPackages.ts';
import { buildIfChanged } from './buildIfChanged.ts';
import { giveUp, rootFolder } from './prepare.mjs';
import { compileRadioLibrary } from './radioLibrary.ts';
import { writeLicences } from './writeLicences.ts';

/** `npm run package`: the installers of this system, into `out/`. Electron's runtime is fetched. */

const system = SYSTEMS.find((one) => one === process.platform);
if (!system) giveUp(`There is no installer for ${process.platform}.`);
else {
  const failed = await buildIfChanged(rootFolder);
  if (failed !== null) giveUp(failed);
  writeLicences(rootFolder);
  compileRadioLibrary(rootFolder, process.platform, {
    say: (line) => void process.stderr.write(`${line}\n`),
  });
  await build({
    projectDir: rootFolder,
    publish: 'never',
    config: packagerConfig(rootFolder, system, process.arch),
  });
}
