import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { cruise, type ICruiseResult, type IConfiguration } from 'dependency-cruiser';

/** The folders that the import rules of `layers.cjs` stand for. */
const FENCED = ['core', 'drivers', 'electron', 'renderer', 'build'] as const;

const SOURCE = /\.(ts|tsx|mts|cts|js|jsx|mjs|cjs)$/;
const DECLARATION = /\.d\.[mc]?ts$/;

const isFenced = (file: string): boolean =>
  FENCED.some((folder) => file.startsWith(`${folder}/`)) &&
  SOURCE.test(file) &&
  !DECLARATION.test(file);

/** The rules of `build/layers.cjs`. */
export const layerRules = (): IConfiguration =>
  createRequire(import.meta.url)('./layers.cjs') as IConfiguration;

const knownToGit = (root: string): readonly string[] =>
  execFileSync('git', ['ls-files', '-z', '--cached', '--others', '--exclude-standard'], {
    cwd: root,
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  }).split('\0');

const onDisk = (root: string): readonly string[] =>
  FENCED.flatMap((folder) =>
    readdirSync(path.join(root, folder), { recursive: true, encoding: 'utf8' }).map((file) =>
      path.join(folder, file).replaceAll('\\', '/'),
    ),
  );

/**
 * Sources that git keeps or would keep, and that are there: paths from the root, sorted. In a copy
 * without git, all that lie in the fenced folders.
 */
export const fencedSources = (root: string): readonly string[] =>
  (existsSync(path.join(root, '.git')) ? knownToGit(root) : onDisk(root))
    .filter((file) => isFenced(file) && existsSync(path.join(root, file)))
    .toSorted();

export interface Breach {
  readonly rule: string;
  readonly from: string;
  readonly to: string;
}

export interface FenceReport {
  /** Sources that were read: paths from the root, sorted. */
  readonly cruised: readonly string[];
  readonly breaches: readonly Breach[];
}

/** Reads every source below `root` and holds its imports against the rules. */
export const walkFence = async (root: string): Promise<FenceReport> => {
  const { forbidden, options } = layerRules();
  const folders = FENCED.filter((folder) => existsSync(path.join(root, folder)));
  const { output } = await cruise([...folders], {
    ...options,
    baseDir: root,
    validate: true,
    ruleSet: { forbidden: forbidden ?? [] },
  });
  const { modules, summary } = output as ICruiseResult;
  return {
    cruised: modules
      .map((module) => module.source)
      .filter(isFenced)
      .toSorted(),
    breaches: summary.violations.map(({ rule, from, to }) => ({ rule: rule.name, from, to })),
  };
};

/** Sources for which no `layer-` rule stands: a file in no list. */
export const outsideEveryLayer = (sources: readonly string[]): readonly string[] => {
  const layers = (layerRules().forbidden ?? []).filter((rule) => rule.name?.startsWith('layer-'));
  return sources.filter(
    (source) =>
      !layers.some(({ from }) => {
        const { path: inside, pathNot: outside } = from as { path: string; pathNot?: string };
        return new RegExp(inside).test(source) && !(outside && new RegExp(outside).test(source));
      }),
  );
};
