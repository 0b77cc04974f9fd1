import type { BrowserContextOptions } from 'playwright-core';
import { expect, it } from 'vitest';
import { at } from './fake/ground.ts';
import { describeWindow, openAlone, page } from './support/alone.ts';
import { seriousFindings } from './support/axe.ts';
import { logOf, pixelOf } from './support/fake-window.ts';

/** The stage of the stands, in a real Chromium on a connection that answers from memory. */

const open = async (options: BrowserContextOptions = {}) => {
  await openAlone(options);
  await page.click('.stage:has-text("Stands")');
  await page.click('#leaf-range');
  await page.waitForSelector('.answer:has-text("0.5 acres in range.")');
};
const asked = async (name: string) => (await logOf(page, name)).map(({ params }) => params as never);

describeWindow('the stands', () => {
  it('shows what a stand reaches and what is closed, with reasons and the caution in place', async () => {
    await open();
    expect((await asked('stands.look'))[0]).toMatchObject({ stand: 'f-stand', at: null, weapon: null });
    expect(await page.locator('.sectors').first().textContent()).toMatch(/closed.*A house lies behind/);
    expect(await page.textContent('.answer')).toContain('Checked, never safe');
    expect(await page.textContent('tr:has(th:text-is("Neck 1"))')).toBe('Neck 131%20 yd20 yd east');
    await page.selectOption('#stand-weapon', 'rifle');
    await expect
      .poll(async () => (await asked('stands.look')).at(-1))
      .toMatchObject({ stand: 'f-stand', weapon: 'rifle', range: null });
    await expect.poll(() => page.inputValue('#stand-range')).toBe('200');
    await page.click('button:has-text("Put it back")');
    await expect.poll(() => page.inputValue('#stand-weapon')).toBe('bow');
  });

  it('follows the seat while it is dragged, and keeps it where it is let go', async () => {
    await open();
    const from = await pixelOf(page, at(216, 150));
    const to = await pixelOf(page, at(240, 170));
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move((from.x + to.x) / 2, (from.y + to.y) / 2, { steps: 4 });
    await page.mouse.move(to.x, to.y, { steps: 4 });
    await page.mouse.up();
    await page.waitForSelector('.tried:has-text("Tried away from where it is drawn.")');
    const last = (await asked('stands.look')).at(-1) as never as { at: [number, number] };
    expect(Math.abs(last.at[0] - at(240, 170)[0])).toBeLessThan(25);
    await page.click('button:has-text("Keep it so")');
    await expect.poll(() => asked('features.put')).toHaveLength(1);
    expect((await asked('features.put'))[0]).toMatchObject({
      feature: { id: 'f-stand', kind: 'stand', geometry: { type: 'Point', coordinates: last.at } },
    });
    await page.waitForSelector('.tried', { state: 'detached' });
  });

  it('ranges and local rules can be set, and a stand is looked at anew with them; a local rule is empty until it is entered', async () => {
    await open();
    await page.click('summary:has-text("Ranges, distances and rules")');
    expect(await page.inputValue('#range-crossbow')).toBe('50');
    expect(await page.inputValue('#setback-building')).toBe('');
    const looks = (await asked('stands.look')).length;
    await page.fill('#setback-building', '150');
    await page.press('#setback-building', 'Tab');
    await page.fill('#range-bow', '25');
    await page.press('#range-bow', 'Tab');
    await expect.poll(() => asked('settings.change')).toHaveLength(2);
    // 150 and 25 yd of 0.9144 m.
    const [setback, range] = (await asked('settings.change')) as { patch: { stands: object } }[];
    expect(setback!.patch.stands).toEqual({ setback: { building: expect.closeTo(137.16, 6) } });
    expect(range!.patch.stands).toEqual({ range: { bow: expect.closeTo(22.86, 6) } });
    await expect.poll(async () => (await asked('stands.look')).length).toBeGreaterThan(looks);
    await page.fill('#setback-building', '');
    await page.press('#setback-building', 'Tab');
    await expect
      .poll(async () => (await asked('settings.change')).at(-1))
      .toEqual({ patch: { stands: { setback: { building: null } } } });
    expect(await seriousFindings(page)).toEqual([]);
  });

  it('finds ways in, with their costs and what is wrong, and nothing serious for axe', async () => {
    await open({ viewport: { width: 1024, height: 700 } });
    const found = await seriousFindings(page);
    await page.click('#leaf-ways');
    await page.selectOption('#walk-time', 'midday');
    await page.selectOption('#walk-wind', '270');
    await page.click('button:has-text("Find ways in")');
    await page.waitForSelector('.way:has-text("Scent drifts onto bedding for 3 minutes.")');
    expect((await asked('stands.approach'))[0]).toMatchObject({
      stand: 'f-stand',
      time: 'midday',
      windFrom: 270,
      mode: 'foot',
      allowNeighbour: null,
    });
    expect(await page.textContent('tr:has(th:text-is("In view of bedding"))')).toBe('In view of bedding2.5');
    expect([...found, ...(await seriousFindings(page))]).toEqual([]);
  });
});
