import path from 'node:path';
import type { Reporter, SerializedError, TestCase, TestModule, Vitest } from 'vitest/node';

/** Folders whose tests stand for what a user sees or a radio does: in CI none may be skipped. */
const NEVER_SKIPPED_IN_CI = ['tests/browser/', 'tests/virtual-radio/'];

interface Skip {
  readonly test: string;
  readonly reason: string;
  /** In CI a skip that may not be. */
  readonly isWrong: boolean;
}

/**
 * The last lines of a run: every skip with its reason, then the counts on a line of their own. What
 * failed outside a test (a file that does not load, a hook, a stray rejection) counts as failed.
 */
export class ClosingLines implements Reporter {
  #root = '';
  #isFiltered = false;
  readonly #inCi: boolean;

  constructor(inCi: boolean = Boolean(process.env['CI'])) {
    this.#inCi = inCi;
  }

  onInit(vitest: Vitest): void {
    this.#root = vitest.config.root;
    this.#isFiltered = vitest.config.testNamePattern !== undefined;
  }

  onTestRunEnd(modules: readonly TestModule[], unhandledErrors: readonly SerializedError[]): void {
    const tests = modules.flatMap((module) => [...module.children.allTests()]);
    const inState = (state: string): readonly TestCase[] =>
      tests.filter((test) => test.result().state === state);
    const brokenModules = modules.filter(
      (module) => module.state() === 'failed' && ![...module.children.allTests('failed')].length,
    );
    // A name pattern skips the rest without a reason: those are not reported.
    const skips = inState('skipped')
      .map((test) => this.#toSkip(test))
      .filter(({ reason }) => reason !== '' || !this.#isFiltered);
    const wrongSkips = skips.filter(({ isWrong }) => isWrong);

    const lines = skips.map(
      ({ test, reason, isWrong }) =>
        `${isWrong ? 'skipped, which fails in CI' : 'skipped'}: ${test}: ${reason || 'no reason given'}`,
    );
    const failed =
      inState('failed').length + brokenModules.length + unhandledErrors.length + wrongSkips.length;
    const skipped = inState('skipped').length - wrongSkips.length;
    lines.push(`${inState('passed').length} passed, ${failed} failed, ${skipped} skipped`);
    process.stdout.write(`${lines.join('\n')}\n`);
    if (failed > 0) process.exitCode = 1;
  }

  #toSkip(test: TestCase): Skip {
    const result = test.result();
    const file = path.relative(this.#root, test.module.moduleId).replaceAll('\\', '/');
    return {
      test: `${file} > ${test.fullName}`,
      reason: (result.state === 'skipped' && result.note) || '',
      isWrong: this.#inCi && NEVER_SKIPPED_IN_CI.some((folder) => file.startsWith(folder)),
    };
  }
}
