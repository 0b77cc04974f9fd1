import type { BrowserContextOptions } from 'playwright-core';
import { expect, it } from 'vitest';
import { at } from './fake/ground.ts';
import { describeWindow, openAlone, page } from './support/alone.ts';
import { seriousFindings } from './support/axe.ts';
import { logOf } from './support/fake-window.ts';

/** Where stands should go, in a real Chromium on a connection that answers from memory. */

const open = async (leaf: string, options: BrowserContextOptions = {}) => {
  await openAlone(options);
  await page.click('.stage:has-text("Stands")');
  await page.click(`#leaf-${leaf}`);
};

describeWindow('where stands should go', () => {
  it('lays stands side by side and says what is not known', async () => {
    await open('compare');
    await page.click('button:has-text("Lay the stands side by side")');
    await page.waitForSelector('table.side-by-side');
    const row = (label: string) => page.locator(`tr:has(th:text-is("${label}")) td`).allTextContents();
    expect(await row('Usable hours a week')).toEqual(['none', 'not known']);
    expect(await row('Clean share when hunted')).toEqual(['12% (6% to 20%)', 'none']);
    expect(await row('Way in')).toEqual(['never clean', 'not known']);
    expect(await row('Travel in clear view')).toEqual(['not known', 'not known']);
    expect((await row('Line of fire closed'))[0]).toBe('100°: 200–300°');
    expect(await page.textContent('.answer')).toContain('Checked, never safe');
    expect(await seriousFindings(page)).toEqual([]);
  });

  it('rules on each stand with what the change gains and what was tried', async () => {
    await open('rulings', { viewport: { width: 1024, height: 700 } });
    await page.click('button:has-text("Rule on each stand")');
    await page.waitForSelector('.ruling h3:has-text("Saddle stand: move")');
    expect(await page.textContent('.ruling')).toContain('It gains 12.0 hours a week.');
    expect(await page.textContent('.ruling')).toContain('2.0 h, then 14 h');
    await page.click('summary:has-text("What was tried")');
    expect(await page.locator('.ruling tbody tr').textContent()).toBe('Move it 50 yd to timber.14 h12 h2%');
    expect(await seriousFindings(page)).toEqual([]);
  });

  it('searches for sites, names why good-looking places fail, and draws a site as a proposed stand', async () => {
    await open('search');
    await page.selectOption('#site-weapon', 'rifle');
    await page.click('button:has-text("Search for sites")');
    await page.waitForSelector('.ruling h3:has-text("Site 1: a tower")');
    expect((await logOf(page, 'stands.search'))[0]!.params).toMatchObject({
      seat: 'any',
      weapon: 'rifle',
      count: 4,
      plan: null,
    });
    expect(await page.textContent('.passed')).toContain('It lies on ground that is not the client’s.');
    expect(await page.textContent('.answer')).toContain('Only with another way in');
    await page.locator('button:has-text("Use this site")').first().click();
    await expect.poll(async () => (await logOf(page, 'features.put')).length).toBe(1);
    expect((await logOf(page, 'features.put'))[0]!.params).toMatchObject({
      feature: {
        kind: 'stand',
        status: 'proposed',
        geometry: { type: 'Point', coordinates: at(240, 170) },
        attributes: { seatHeight: 3.5, weapon: 'rifle', structure: 'tower', towerHeight: 3.5 },
      },
    });
    await page.waitForSelector('button:disabled:has-text("Proposed")');
    await page.click('button:has-text("Find places for a camera")');
    await page.waitForSelector('h3:has-text("C1: by neck 1, 12 days")');
    expect(await seriousFindings(page)).toEqual([]);
  });
});
