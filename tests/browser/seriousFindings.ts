import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

/** What axe finds serious or worse on the page as it stands. */
export const seriousFindings = async (page: Page): Promise<readonly string[]> => {
  const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
  // In the page's own world without a script element: the content policy stays as it is.
  await page.evaluate(axe);
  return page.evaluate(async () => {
    const found = await (
      globalThis as unknown as {
        axe: {
          run(): Promise<{
            violations: { id: string; impact: string; nodes: { html: string }[] }[];
          }>;
        };
      }
    ).axe.run();
    return found.violations
      .filter(({ impact }) => impact === 'serious' || impact === 'critical')
      .map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' | ')}`);
  });
};
