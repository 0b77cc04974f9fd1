import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { seriousFindings } from './support/axe.ts';
import { type Bundle, browserPath, bundleWindow, launch, openWindow } from './support/browser.ts';

/** The stage of the air, in a real Chromium on a connection that answers from memory. */
describe.skipIf(browserPath === null)('the air', () => {
  let browser: Browser;
  let bundle: Bundle;
  beforeAll(async () => {
    [browser, bundle] = await Promise.all([launch(), bundleWindow()]);
  });
  afterAll(() => browser?.close());

  it('draws the rose with its numbers beside it, by keyboard, with nothing serious for axe', async () => {
    const viewport = { width: 1024, height: 700 };
    const { page, errors } = await openWindow(browser, bundle, { reducedMotion: 'reduce', viewport });
    await page.waitForSelector('.stage');
    await page.click('.stage:has-text("Air")');
    await page.focus('#leaf-night');
    await page.keyboard.press('ArrowRight');
    await page.focus('button:has-text("Count the wind")');
    await page.keyboard.press('Enter');
    await page.waitForSelector('svg[aria-label^="Rose of the morning"]');
    expect(await page.textContent('tr:has(th:text-is("W")) td')).toBe('40%');
    expect(await page.textContent('tr:has(th:text-is("Calm")) td')).toBe('25%');
    expect(await page.locator('tbody tr').count()).toBe(18);
    expect(await seriousFindings(page)).toEqual([]);
    expect(errors).toEqual([]);
    await page.context().close();
  });
});
