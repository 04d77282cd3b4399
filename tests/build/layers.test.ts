import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { fencedSources, layerRules, outsideEveryLayer, walkFence } from '../../build/fence.ts';
import { temporaryFolder } from '../support/temporaryFolder.ts';

const root = path.resolve(import.meta.dirname, '../..');

describe('the product', () => {
  test('every source that git knows is read, and each keeps to its layer', async () => {
    const sources = fencedSources(root);
    const { cruised, breaches } = await walkFence(root);
    expect(sources.length).toBeGreaterThan(0);
    expect({ cruised, breaches, outside: outsideEveryLayer(sources) }).toEqual({
      cruised: sources,
      breaches: [],
      outside: [],
    });
  });

  test('every rule says why in one sentence', () => {
    for (const { name, comment } of layerRules().forbidden ?? [])
      expect(comment, name).toMatch(/^[A-Z].{30,}\.$/);
  });
});

/** A package as the rules see one: enough to be resolved. */
const installed = (name: string): Record<string, string> => ({
  [`node_modules/${name}/package.json`]: JSON.stringify({
    name,
    version: '1.0.0',
    main: 'index.js',
  }),
  [`node_modules/${name}/index.js`]: 'module.exports = {};\n',
});

const PACKAGES = [
  'zod',
  'ws',
  'qrcode',
  'electron',
  'better-sqlite3',
  'highs',
  'pdfkit',
  'recharts',
  'react',
  'left-pad',
];

/** What is planted into: one innocent file for each place that a violation points at. */
const INNOCENT = {
  'package.json': '{"name":"planted","version":"1.0.0","type":"module"}',
  ...Object.assign({}, ...[...PACKAGES, '@abandonware/noble'].map(installed)),
  'core/units.ts': 'export type Unit = 1;\n',
  'drivers/pads/ports.ts': 'export type Port = 1;\n',
  'drivers/pads/session.ts': 'export type Session = 1;\n',
  'drivers/pads/protocol/cornerPad.ts': 'export type Codec = 1;\n',
  'drivers/pads/rig/rig.ts': 'export type Rig = 1;\n',
  'drivers/pads/transport/noble.ts':
    "export const load = async (): Promise<unknown> => import('@abandonware/noble');\n",
  'drivers/store/open.ts': "import Database from 'better-sqlite3';\nexport { Database };\n",
  'electron/main.ts': "import { app } from 'electron';\nexport { app };\n",
  'electron/channels.ts': 'export type Channel = 1;\n',
  'renderer/index.tsx': "import 'react';\nimport './plot/plot.ts';\n",
  'renderer/plot/plot.ts': "import 'recharts';\n",
  'build/tool.ts': "import 'node:fs';\n",
  'tests/support/fake.ts': 'export type Fake = 1;\n',
} as Readonly<Record<string, string>>;

const breachesOf = async (file: string, source: string): Promise<readonly string[]> => {
  const { breaches } = await walkFence(temporaryFolder({ ...INNOCENT, [file]: source }));
  return breaches.map(({ rule, from }) => `${from}: ${rule}`);
};

test('what keeps to the rules passes', async () => {
  expect(await breachesOf('core/area.ts', "import './units.ts';\n")).toEqual([]);
});

/** Each file of one forbidden import, and the rules that it must break. */
const PLANTED: readonly (readonly [file: string, source: string, ...rules: string[]])[] = [
  ['core/bench/x.ts', "import '../../drivers/pads/ports.ts';", 'layer-core'],
  ['core/x.ts', "import 'node:fs';", 'layer-core'],
  ['core/x.ts', "import 'left-pad';", 'layer-core'],
  ['core/x.ts', "import 'a-package-that-is-not-there';", 'found'],
  ['core/x.ts', "import { z } from 'zod';\nexport { z };", 'home-zod', 'layer-core'],
  [
    'core/x.ts',
    "import type { Fake } from '../tests/support/fake.ts';\nexport type X = Fake;",
    'layer-core',
  ],
  ['core/contract/x.ts', "import 'react';", 'layer-core-records'],
  [
    'drivers/pads/protocol/x.ts',
    "import type { load } from '../transport/noble.ts';\nexport type X = typeof load;",
    'layer-pads-protocol',
  ],
  ['drivers/pads/protocol/x.ts', "export * from 'node:buffer';", 'layer-pads-protocol'],
  ['drivers/pads/rig/x.ts', "import '../transport/noble.ts';", 'layer-pads-rig-and-filter'],
  ['drivers/pads/filter/x.ts', "import '../session.ts';", 'layer-pads-rig-and-filter'],
  ['drivers/pads/transport/x.ts', "import '../protocol/cornerPad.ts';", 'layer-pads-transport'],
  ['drivers/pads/x.ts', "import '../store/open.ts';", 'layer-pads'],
  ['drivers/solver/x.ts', "import '../store/open.ts';", 'layer-solver'],
  ['drivers/store/x.ts', "import '../pads/ports.ts';", 'layer-store'],
  ['drivers/paper/x.ts', "import '../store/open.ts';", 'layer-paper'],
  ['electron/x.ts', "import '../renderer/index.tsx';", 'layer-electron'],
  ['electron/preload.ts', "import 'node:fs';", 'layer-preload'],
  ['electron/preload.ts', "import './main.ts';", 'layer-preload'],
  ['renderer/x.tsx', "import '../drivers/pads/ports.ts';", 'layer-renderer'],
  ['renderer/x.ts', "import 'node:path';", 'layer-renderer'],
  ['build/x.ts', "import '../core/units.ts';", 'layer-build'],
  [
    'drivers/pads/transport/x.ts',
    "export const load = async (): Promise<unknown> => import('@abandonware/noble');",
    'home-noble',
  ],
  [
    'drivers/store/x.ts',
    "import type Database from 'better-sqlite3';\nexport type X = Database;",
    'home-sqlite',
  ],
  ['drivers/paper/x.ts', "import type Pdf from 'pdfkit';\nexport type X = Pdf;", 'home-pdf'],
  ['drivers/solver/x.ts', "import loadHighs from 'highs';\nexport { loadHighs };", 'home-highs'],
  [
    'renderer/parts/x.tsx',
    "import { LineChart } from 'recharts';\nexport { LineChart };",
    'home-recharts',
  ],
  [
    'drivers/store/x.ts',
    "import { type App } from 'electron';\nexport type X = App;",
    'home-electron',
    'layer-store',
  ],
  ['electron/x.ts', "export type { WebSocket } from 'ws';", 'home-ws'],
  ['electron/x.ts', "import { create } from 'qrcode';\nexport { create };", 'home-qrcode'],
  ['electron/x.ts', "import { z } from 'zod';\nexport { z };", 'home-zod'],
];

describe('what is planted is caught', () => {
  test.each(PLANTED)('%s: %s', async (file, source, ...rules) => {
    expect(await breachesOf(file, `${source}\n`)).toEqual(
      rules.toSorted().map((rule) => `${file}: ${rule}`),
    );
  });

  test('there is a plant for every rule', () => {
    const planted = new Set(PLANTED.flatMap(([, , ...rules]) => rules));
    expect([...planted].toSorted()).toEqual(
      (layerRules().forbidden ?? []).map(({ name }) => name ?? '').toSorted(),
    );
  });

  test('a file in no layer', () => {
    expect(outsideEveryLayer(['core/units.ts', 'drivers/lasers/laser.ts'])).toEqual([
      'drivers/lasers/laser.ts',
    ]);
  });
});
