import { rootFolder } from './prepare.mjs';
import { writeLicences } from './writeLicences.ts';

/** `npm run licences`: writes the licences of all that ships to `dist/licences.txt`. */

process.stdout.write(`dist/licences.txt: ${writeLicences(rootFolder)} packages\n`);
