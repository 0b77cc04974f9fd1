import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Neck } from '../../../core/travel/types.ts';
import { browserPath } from '../support/browser.ts';
import { pixelOf, sitOnSample } from '../support/sitting.ts';

/**
 * What a consultant does by hand on the scouted sample, with a real pointer on the real service: the window must say
 * what the service answers.
 */

let page: Page;

const stage = (name: string) => page.click(`.stage:has-text("${name}")`);
/** Nothing is under way that a question asked now would take the place of. */
async function settled(): Promise<void> {
  await page.waitForTimeout(1000);
  await page.waitForSelector('[role=progressbar]', { state: 'detached', timeout: 60_000 });
}
const tab = (name: string) => page.click(`[role=tab]:has-text("${name}")`);

describe.skipIf(browserPath === null)('by hand on the sample', { timeout: 180_000 }, () => {
  const { sitting, sample } = sitOnSample();
  beforeAll(() => {
    page = sitting.page;
  });

  it('a barricade drawn across a neck with other ways takes its share, and undo gives it back', async () => {
    const necks = (await sample.ask('map.table', { table: 'necks' })).features.map(
      ({ properties }) => properties as Neck,
    );
    // Of the best, the one whose travel most easily goes elsewhere.
    const neck = necks.slice(0, 5).toSorted((a, b) => (b.redundancy ?? 0) - (a.redundancy ?? 0))[0]!;
    const place = necks.indexOf(neck);
    const features = async () => (await sample.ask('map.table', { table: 'features' })).features;
    const before = (await features()).length;
    await stage('Travel');
    await tab('Necks');
    await page.click(`[data-finding="${neck.id}"]`);
    // The view goes to the neck.
    const onMap = async (at: [number, number]) => {
      const { x, y } = await pixelOf(page, at);
      const box = (await page.locator('.map').boundingBox())!;
      return x > box.x + 20 && x < box.x + box.width - 20 && y > box.y + 20 && y < box.y + box.height - 20;
    };
    const [[ax, ay], [bx, by]] = neck.line as [[number, number], [number, number]];
    // Three times as long as the neck is wide, so that few go round.
    const ends: [number, number][] = [
      [2 * ax - bx, 2 * ay - by],
      [2 * bx - ax, 2 * by - ay],
    ];
    for (const end of ends) await expect.poll(() => onMap(end)).toBe(true);
    await page.keyboard.press('Escape');
    await stage('Work');
    await page.click('.draw-kind:has-text("Barricade")');
    for (const end of ends) {
      const { x, y } = await pixelOf(page, end);
      await page.mouse.click(x, y);
      await page.waitForTimeout(350);
    }
    await page.click('.draw-bar button:has-text("Finish")');
    await page.waitForSelector('.feature-form');
    await page.fill('.feature-form [name=name]', 'Drawn by hand');
    await page.click('.feature-form button:has-text("Save")');
    await page.waitForSelector('.detail-head:has-text("Drawn by hand")');
    expect((await features()).length).toBe(before + 1);
    await page.keyboard.press('Escape');

    await stage('Travel');
    await tab('What if');
    await page.click('button:has-text("Compare before and after")');
    await page.waitForSelector('.answer table', { timeout: 60_000 });
    await settled();
    const row = page.locator('.answer table tbody tr').nth(place);
    const compared = await sample.ask('travel.whatIf', { trial: [], spot: null });
    const share = (value: number): string => `${Math.round(value * 100)}%`;
    const { rank, before: was, after } = compared.necks[place]!;
    expect(rank).toBe(neck.rank);
    expect(after).toBeLessThan(0.9 * was);
    expect(await row.textContent()).toContain(share(was));
    expect(await row.textContent()).toContain(share(after));
    expect(await page.textContent('.answer')).toContain('Drawn by hand');

    // The name and the line are an edit each.
    for (let k = 0; k < 2; k++) await page.click('.masthead button:has-text("Undo")');
    await expect.poll(async () => (await features()).length).toBe(before);
    await settled();
    const proposedAgain = await sample.ask('travel.whatIf', { trial: [], spot: null });
    await expect
      .poll(() => row.textContent(), { timeout: 30_000 })
      .toContain(share(proposedAgain.necks[place]!.after));
    expect(Math.abs(proposedAgain.necks[place]!.after - after)).toBeGreaterThan(0.005);
  });

  it('the clock steps through the night by the keyboard, and the air is told anew each hour', async () => {
    await stage('Air');
    await tab('Clock');
    const strip = page.locator('.day-strip input[type=range]');
    const told = page.locator('[aria-label="Air at this hour"] .para').first();
    await told.waitFor({ timeout: 120_000 });
    const said = new Set<string>();
    await strip.focus();
    await page.keyboard.press('Home');
    for (let k = 0; k < 4; k++) {
      await expect
        .poll(() => page.locator('[aria-label="Air at this hour"]').getAttribute('aria-busy'), {
          timeout: 60_000,
        })
        .not.toBe('true');
      said.add(`${await strip.inputValue()} ${await told.textContent()}`);
      for (let step = 0; step < 3; step++) await page.keyboard.press('ArrowRight');
      await page.waitForTimeout(300);
    }
    // Four hours, four answers.
    expect(said.size).toBe(4);
  });

  it('said nothing on the console all the while', () => {
    expect(sitting.errors).toEqual([]);
  });
});
