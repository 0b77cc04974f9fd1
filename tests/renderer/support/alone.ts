import type { BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect } from 'vitest';
import { type Bundle, browserPath, bundleWindow, launch, openWindow } from './browser.ts';

/** The page of the test that runs. */
export let page: Page;

let browser: Awaited<ReturnType<typeof launch>>;
let bundle: Bundle;
let errors: string[];

/** Opens the window on the connection that answers from memory; `before` is run in the page ahead of it. */
export async function openAlone(options: BrowserContextOptions & { before?: string } = {}): Promise<void> {
  ({ page, errors } = await openWindow(browser, bundle, { reducedMotion: 'reduce', ...options }));
}

/**
 * Tests of the window alone, in one real Chromium a file; each opens its page with `openAlone`. Skipped, and said so,
 * where no Chromium-family browser is installed.
 */
export function describeWindow(name: string, tests: () => void): void {
  describe.skipIf(browserPath === null)(name, () => {
    beforeAll(async () => {
      [browser, bundle] = await Promise.all([launch(), bundleWindow()]);
    });
    afterAll(() => browser?.close());
    afterEach(async () => {
      // The content policy reports what it blocks as console errors; there must be none after any test.
      expect(errors).toEqual([]);
      await page.context().close();
    });
    tests();
  });
}
