import type { BrowserContextOptions } from 'playwright-core';
import { expect, it } from 'vitest';
import { at } from './fake/ground.ts';
import { describeWindow, openAlone, page } from './support/alone.ts';
import { seriousFindings } from './support/axe.ts';
import { keptView, logOf, pixelOf } from './support/fake-window.ts';

/** What is told of the spot under the hand, in a real Chromium on the connection that answers from memory. */

const open = async (options: BrowserContextOptions = {}) => {
  await openAlone(options);
  await page.click('.stage:has-text("Travel")');
  await page.waitForSelector('[data-finding="neck-1"]');
  await page.waitForTimeout(300);
};
const rest = async (place: [number, number]) => {
  const { x, y } = await pixelOf(page, place);
  await page.mouse.move(x - 30, y);
  await page.mouse.move(x, y, { steps: 3 });
};
const asked = async (name: string) =>
  (await logOf(page, name)).map(({ params }) => params as { x: number; y: number });
const card = () => page.locator('.hand');

describeWindow('under the hand', () => {
  it('tells where a deer goes next once the pointer rests, keeps it when asked, and can be turned off', async () => {
    await open();
    // Passing over the map asks nothing.
    await rest(at(120, 230));
    await page.waitForTimeout(300);
    await rest(at(170, 230));
    await expect.poll(() => asked('hand.onward')).toHaveLength(1);
    const [first] = await asked('hand.onward');
    expect(Math.hypot(first!.x - at(170, 230)[0], first!.y - at(170, 230)[1])).toBeLessThan(15);
    await expect.poll(() => card().textContent()).toContain('62% northeast, down a draw');
    await expect.poll(() => card().textContent()).toContain('Smelled as far as 260 yd east.');
    expect(await logOf(page, 'hand.air')).toHaveLength(1);
    // It goes as the pointer moves on, and stays once it is kept.
    await rest(at(120, 230));
    expect(await card().count()).toBe(0);
    await expect.poll(() => card().count()).toBe(1);
    await page.keyboard.press('h');
    await rest(at(200, 180));
    await page.waitForTimeout(900);
    expect(await asked('hand.onward')).toHaveLength(2);
    expect(await card().textContent()).toContain('As many deer are taken to go one way as the other.');
    expect(await seriousFindings(page)).toEqual([]);
    // The clock of the air says for which hour: moved on, the same spot is asked again, of new air.
    await page.click('.stage:has-text("Air")');
    await page.waitForSelector('.hand');
    const before = (await logOf(page, 'hand.smelled')).length;
    await page.fill('#clock-hour', '9');
    await expect
      .poll(async () => (await logOf(page, 'hand.smelled')).at(-1)!.params)
      .toMatchObject({ hour: 9 });
    expect(await logOf(page, 'hand.air')).toHaveLength(2);
    expect((await logOf(page, 'hand.smelled')).length).toBe(before + 1);
    await page.focus('.map');
    await page.keyboard.press('Escape');
    expect(await card().count()).toBe(0);
    // Turned off, resting asks nothing; the other button still does, at once.
    await page.click('button:has-text("Tell of the spot the pointer rests on")');
    await rest(at(150, 200));
    await page.waitForTimeout(900);
    expect(await asked('hand.onward')).toHaveLength(2);
    const { x, y } = await pixelOf(page, at(150, 200));
    await page.mouse.click(x, y, { button: 'right' });
    await expect.poll(() => card().textContent()).toContain('62%');
    await page.reload();
    await page.waitForSelector('.map canvas');
    const button = page.locator('button:has-text("Tell of the spot the pointer rests on")');
    expect(await button.getAttribute('aria-pressed')).toBe('false');
  });

  it('is asked at the cross by keyboard alone', async () => {
    await open({ viewport: { width: 1024, height: 700 } });
    await page.focus('.map');
    await page.keyboard.press('Enter');
    await page.keyboard.press('h');
    await expect.poll(() => card().textContent()).toContain('38% west, over a saddle');
    expect(await page.locator('.hand [role=status]').textContent()).toContain('6.2% of all travel');
    await page.keyboard.press('h');
    expect(await card().count()).toBe(0);
  });

  it('re-routes travel while a proposed barricade is dragged as a whole, for the neck looked at', async () => {
    await open();
    await page.click('[data-finding="neck-2"]');
    await page.click('.stage:has-text("Work")');
    await page.click('[data-finding="f-barricade"]');
    await page.waitForTimeout(300);
    // The grip is in the middle of the line.
    const from = await pixelOf(page, at(243.5, 168.5));
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(from.x + 20, from.y - 10, { steps: 3 });
    await expect.poll(() => page.locator('.drag').textContent()).toContain('Neck 2: 31% → 44%');
    // Still held, moved on: asked again of where it is now, and nothing is put.
    await page.mouse.move(from.x + 60, from.y - 30, { steps: 5 });
    const { resolution } = await keptView(page);
    const movedTo = async () => {
      const { feature } = (await logOf(page, 'hand.dragged')).at(-1)!.params as {
        feature: { id: string; geometry: { coordinates: [number, number][] } };
      };
      return feature.geometry.coordinates.map(([x, y], k) => {
        const was = k === 0 ? at(235, 165) : at(252, 172);
        return [(x - was[0]) / resolution, (y - was[1]) / resolution];
      });
    };
    await expect.poll(async () => Math.round((await movedTo())[0]![0]!)).toBe(60);
    for (const [east, north] of await movedTo()) {
      expect(east).toBeCloseTo(60, 0);
      expect(north).toBeCloseTo(30, 0);
    }
    expect(await logOf(page, 'features.put')).toEqual([]);
    await page.mouse.up();
    await expect.poll(() => logOf(page, 'features.put')).toHaveLength(1);
    expect(await page.locator('.drag').textContent()).toContain('12% of all travel meets it here');
    await page.focus('.map');
    await page.keyboard.press('Escape');
    await expect.poll(() => page.locator('.drag').count()).toBe(0);
  });
});
