import { expect, it } from 'vitest';
import { at } from './fake/ground.ts';
import { describeWindow, openAlone, page } from './support/alone.ts';
import { seriousFindings } from './support/axe.ts';
import { keptView, logOf, pixelOf } from './support/fake-window.ts';

/** Cover painted on the map, in a real Chromium on the connection that answers from memory. */

const strokes = async () =>
  (await logOf(page, 'cover.paint')).map(
    ({ params }) => params as { path: [number, number][]; width: number; cover: string },
  );

describeWindow('painting cover', () => {
  it('paints a stroke while the map stays, undoes it alone, dabs by keys and is put down', async () => {
    await openAlone({ viewport: { width: 1440, height: 900 } });
    await page.click('.stage:has-text("Cover")');
    await page.waitForSelector('.map canvas');
    await page.selectOption('#brush-cover', 'evergreen');
    await page.fill('#brush-width', '20');
    await page.press('#brush-width', 'Enter');
    await page.click('button:has-text("Take up the brush")');
    await page.waitForTimeout(300);
    const before = await keptView(page);
    const [from, to] = [await pixelOf(page, at(160, 200)), await pixelOf(page, at(200, 220))];
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move((from.x + to.x) / 2, (from.y + to.y) / 2, { steps: 6 });
    await page.mouse.move(to.x, to.y, { steps: 6 });
    const found = await seriousFindings(page);
    await page.mouse.up();
    await page.waitForSelector('.closures li:has-text("Evergreen")');
    const [stroke] = await strokes();
    // 20 yd: 1 yd is 0.9144 m.
    expect(stroke!.width).toBeCloseTo(18.288, 6);
    expect(stroke!.cover).toBe('evergreen');
    expect(stroke!.path.length).toBeGreaterThan(4);
    for (const [place, wanted] of [
      [stroke!.path[0]!, at(160, 200)],
      [stroke!.path.at(-1)!, at(200, 220)],
    ] as const)
      expect(Math.hypot(place[0] - wanted[0], place[1] - wanted[1])).toBeLessThan(15);
    expect(await keptView(page)).toEqual(before);
    await page.waitForSelector('text=The ground has changed');
    // A click chooses nothing while the brush is in the hand: it dabs.
    await page.mouse.click(from.x, to.y);
    await expect.poll(async () => (await strokes()).length).toBe(2);
    expect((await strokes())[1]!.path).toHaveLength(1);
    await page.waitForSelector('.closures li:nth-child(2)');
    await page.click('button[title^="Undo"]');
    await page.waitForSelector('.closures li:nth-child(2)', { state: 'detached' });
    expect(await page.locator('.closures li:has-text("Evergreen")').count()).toBe(1);
    await page.focus('.map');
    await page.keyboard.press(' ');
    await expect.poll(async () => (await strokes()).length).toBe(3);
    const [x, y] = (await strokes())[2]!.path[0]!;
    const { centre } = await keptView(page);
    expect(Math.hypot(x - centre[0], y - centre[1])).toBeLessThan(1);
    await page.keyboard.press('Escape');
    await page.waitForSelector('button[aria-pressed="false"]:has-text("Take up the brush")');
    // The map is dragged again.
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(to.x, to.y, { steps: 4 });
    await page.mouse.up();
    await expect.poll(async () => (await keptView(page)).centre).not.toEqual(before.centre);
    expect(await strokes()).toHaveLength(3);
    expect([...found, ...(await seriousFindings(page))]).toEqual([]);
  });
});
