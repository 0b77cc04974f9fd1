import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { browserPath } from '../support/browser.ts';
import { difference, type Look, lookOf, packed, unpacked } from '../support/looks.ts';
import { sitOnSample } from '../support/sitting.ts';

/**
 * How every stage looks on the sample, against what was looked at and kept. After a change that is meant, look at it
 * and keep it anew: HOLLOWGATE_LOOKS=<folder for the pictures in full> npx vitest run tests/renderer/e2e/looks
 */

const KEPT = join(dirname(fileURLToPath(import.meta.url)), 'looks');
const FULL = process.env.HOLLOWGATE_LOOKS;
const STAGES = ['Ground', 'Cover', 'Travel', 'Air', 'Stands', 'Work', 'Report'];
const SIZES = [
  { width: 1440, height: 900 },
  { width: 1024, height: 700 },
];
/** Share of the window that may look different: what day it is, and how another machine draws letters. */
const TOLERANCE = 0.02;
/** A picture is done when the next one differs by less: tiles have come in. */
const STILL = 0.0005;

let page: Page;

async function still(): Promise<{ png: Uint8Array; look: Look }> {
  // What is worked out when a stage is first shown is on the map too.
  await page.waitForTimeout(500);
  await page.waitForSelector('[role=progressbar], [aria-busy=true]', { state: 'detached', timeout: 60_000 });
  let last: Look | null = null;
  for (let turn = 0; ; turn++) {
    const png = await page.screenshot();
    const look = lookOf(png);
    if (turn >= 25 || (last && difference(last, look) < STILL)) return { png, look };
    last = look;
    await page.waitForTimeout(250);
  }
}

describe.skipIf(browserPath === null)('the look of every stage', { timeout: 180_000 }, () => {
  const { sitting } = sitOnSample();
  beforeAll(() => {
    page = sitting.page;
    for (const folder of FULL ? [KEPT, FULL] : []) mkdirSync(folder, { recursive: true });
  });

  it.each(STAGES)('%s looks as it did, wide and narrow, light and dark', async (stage) => {
    const changed: string[] = [];
    for (const size of SIZES)
      for (const colorScheme of ['light', 'dark'] as const) {
        await page.setViewportSize(size);
        await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
        await page.click(`.stage:has-text("${stage}")`);
        await page.mouse.move(size.width - 3, size.height - 3);
        const name = `${stage.toLowerCase()}-${size.width}-${colorScheme}.png`;
        const { png, look } = await still();
        if (FULL) {
          writeFileSync(join(FULL, name), png);
          writeFileSync(join(KEPT, name), packed(look));
        }
        expect(existsSync(join(KEPT, name)), `${name} is kept`).toBe(true);
        const share = difference(unpacked(readFileSync(join(KEPT, name))), look);
        if (share > TOLERANCE) changed.push(`${name}: ${(share * 100).toFixed(1)} % looks different`);
      }
    expect(changed).toEqual([]);
  });
});
