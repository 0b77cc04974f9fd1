import axe from 'axe-core';
import type { Page } from 'playwright-core';

/** What axe holds to be serious or critical on the page as it stands, as lines that say where. */
export async function seriousFindings(page: Page): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axe.source);
  const results = await page.evaluate(() =>
    (window as never as { axe: typeof axe }).axe.run(document, {
      preload: false,
      resultTypes: ['violations'],
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
    }),
  );
  return results.violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .flatMap(({ id, nodes }) =>
      nodes.map((node) => `${id}: ${node.target.join(' ')} ${node.failureSummary}`),
    );
}
