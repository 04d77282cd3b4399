/** `npm run check` calls this: prints every import that breaks a layer rule, and why it is one. */
import { fencedSources, layerRules, outsideEveryLayer, walkFence } from '../fence.ts';
import { rootFolder } from './prepare.mjs';

const sources = fencedSources(rootFolder);
const { cruised, breaches } = await walkFence(rootFolder);
const why = new Map(layerRules().forbidden?.map((rule) => [rule.name, rule.comment]));

const lines = [
  ...breaches.map(({ rule, from, to }) => `${from} imports ${to}: ${why.get(rule)} (${rule})`),
  ...outsideEveryLayer(sources).map((file) => `${file} is in no layer of build/layers.cjs`),
  ...sources.filter((file) => !cruised.includes(file)).map((file) => `${file} was not read`),
];
for (const line of lines) process.stdout.write(`${line}\n`);
process.exitCode = lines.length > 0 ? 1 : 0;
