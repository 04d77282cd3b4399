/**
 * Who may import what. Each `layer-` rule is an allow-list: whatever it does not name, a package or
 * a file, is refused for the files of that layer, and a type-only import is an import. Each `home-`
 * rule gives a dangerous package the one place where it may be imported. `tests/build/layers.test.ts`
 * runs these rules, on the product and on planted violations.
 */

/** Node's own modules, as the cruiser calls them. */
const NODE = 'core';

const packages = (...names) => names.map((name) => `^node_modules/${name.replaceAll('.', '\\.')}/`);

/** An allow-list for the files of one layer. */
const layer = (name, { files, butNot, may, node = false, why }) => ({
  name: `layer-${name}`,
  comment: why,
  severity: 'error',
  from: butNot ? { path: files, pathNot: butNot } : { path: files },
  to: {
    pathNot: may,
    couldNotResolve: false,
    ...(node ? { dependencyTypesNot: [NODE] } : {}),
  },
});

/** The only files that may import a package. */
const home = (name, { of, files, why }) => ({
  name: `home-${name}`,
  comment: why,
  severity: 'error',
  from: { pathNot: [files] },
  to: { path: of },
});

const PURE_SIDE_OF_PADS = '^drivers/pads/(protocol|rig|filter)/';

module.exports = {
  forbidden: [
    layer('core', {
      files: '^core/',
      butNot: '^core/(contract|sheet)/',
      may: ['^core/'],
      why: 'The knowledge is pure: no Node, no page, no package, so that it runs anywhere and every result can be computed again.',
    }),
    layer('core-records', {
      files: '^core/(contract|sheet)/',
      may: ['^core/', ...packages('zod')],
      why: 'What crosses a process or is stored is parsed by a schema, and schemas live nowhere else in core.',
    }),
    layer('pads-protocol', {
      files: '^drivers/pads/protocol/',
      may: ['^core/', PURE_SIDE_OF_PADS, '^drivers/pads/ports\\.ts$', ...packages('zod')],
      why: 'Protocol gives bytes a meaning and never learns what carried them, so a pad model is data and a function.',
    }),
    layer('pads-rig-and-filter', {
      files: '^drivers/pads/(rig|filter)/',
      may: ['^core/', PURE_SIDE_OF_PADS, '^drivers/pads/ports\\.ts$'],
      why: 'The rig and the filters compute and wait for nothing, so a seed gives the same samples on every machine.',
    }),
    layer('pads-transport', {
      files: '^drivers/pads/transport/',
      may: [
        '^core/',
        '^drivers/pads/transport/',
        '^drivers/pads/ports\\.ts$',
        ...packages('@abandonware/noble'),
      ],
      node: true,
      why: 'Transport moves bytes and never gives them a meaning, so radio, rig and recording cannot be told apart behind it.',
    }),
    layer('pads', {
      files: '^drivers/pads/[^/]+$',
      may: ['^core/', '^drivers/pads/'],
      why: 'The root of the pads joins transport to protocol and waits through the scheduler that it is handed.',
    }),
    layer('store', {
      files: '^drivers/store/',
      may: ['^core/', '^drivers/store/', ...packages('better-sqlite3')],
      node: true,
      why: 'The store keeps records and knows neither pads nor windows.',
    }),
    layer('paper', {
      files: '^drivers/paper/',
      may: ['^core/', '^drivers/paper/', ...packages('pdfkit')],
      node: true,
      why: 'Paper lays out what core has already put into words and knows neither pads nor records.',
    }),
    layer('solver', {
      files: '^drivers/solver/',
      may: ['^core/', '^drivers/solver/', ...packages('highs')],
      node: true,
      why: 'The solver runs the models that core writes, in a thread of its own, and knows neither pads nor records.',
    }),
    layer('electron', {
      files: '^electron/',
      butNot: '^electron/preload\\.ts$',
      may: ['^core/', '^drivers/', '^electron/', ...packages('electron', 'ws', 'qrcode', 'zod')],
      node: true,
      why: 'The hosts put core and drivers together and never reach into the page.',
    }),
    layer('preload', {
      files: '^electron/preload\\.ts$',
      may: ['^electron/channels\\.ts$', ...packages('electron')],
      why: 'The preload script runs beside the page in a sandbox, where there is no Node.',
    }),
    layer('renderer', {
      files: '^renderer/',
      may: [
        '^renderer/',
        '^core/',
        ...packages('react', 'react-dom', 'react-aria-components', '@fontsource/[^/]+', 'recharts'),
      ],
      why: 'The page talks only through the contract and must not reach Node, a driver or a host.',
    }),
    layer('build', {
      files: '^build/',
      may: ['^build/', '^node_modules/'],
      node: true,
      why: 'How the product is built does not depend on what it does.',
    }),
    {
      name: 'found',
      comment: 'An import that leads nowhere would escape every other rule.',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true },
    },
    home('noble', {
      of: packages('@abandonware/noble'),
      files: '^drivers/pads/transport/noble\\.ts$',
      why: 'The Bluetooth library resolves a native binding when it is required: one file loads it, late, and another library is one file.',
    }),
    home('sqlite', {
      of: packages('better-sqlite3'),
      files: '^drivers/store/open\\.ts$',
      why: 'One file opens databases, so that none is open without its pragmas and its migrations.',
    }),
    home('pdf', {
      of: packages('pdfkit'),
      files: '^drivers/paper/pdf\\.ts$',
      why: 'One file draws with the PDF library, so that the same paper is the same bytes and another library is one file.',
    }),
    home('highs', {
      of: packages('highs'),
      files: '^drivers/solver/highs\\.ts$',
      why: 'The solver blocks its thread while it runs, so one file calls it, in a worker, and another solver is one file.',
    }),
    home('recharts', {
      of: packages('recharts'),
      files: '^renderer/plot/',
      why: 'Live data must not enter a chart as data: those who draw with it know how.',
    }),
    home('electron', {
      of: packages('electron'),
      files: '^electron/',
      why: 'Importing it begins to fetch a runtime, which a page or a test must never do.',
    }),
    home('ws', {
      of: packages('ws'),
      files: '^electron/(pageServer|guestServer)\\.ts$',
      why: 'One file opens the local page and one the view for guests, each with its checks of host, origin and cookie.',
    }),
    home('qrcode', {
      of: packages('qrcode'),
      files: '^electron/qrCode\\.ts$',
      why: 'One file makes QR codes, of the guests’ addresses only, and another library is one file.',
    }),
    home('zod', {
      of: packages('zod'),
      files: '^(core/(contract|sheet)/|drivers/pads/protocol/|electron/gate\\.ts$)',
      why: 'Schemas belong to the contract, the records, the pad descriptions and the gate; others call them.',
    }),
  ],
  options: {
    doNotFollow: { path: '^node_modules/' },
    parser: 'swc',
    // Type-only imports too.
    tsPreCompilationDeps: true,
    moduleSystems: ['es6', 'cjs'],
    exoticRequireStrings: ['requireHere', 'createRequire'],
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'require', 'node', 'default'],
      extensions: ['.ts', '.tsx', '.mjs', '.cjs', '.js', '.json', '.css'],
    },
  },
};
