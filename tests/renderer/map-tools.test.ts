import type { BrowserContextOptions } from 'playwright-core';
import { expect, it } from 'vitest';
import { at } from './fake/ground.ts';
import { describeWindow, openAlone, page } from './support/alone.ts';
import { seriousFindings } from './support/axe.ts';
import { clickPlace, keptView, logOf, pixelOf } from './support/fake-window.ts';

/** Tools of the map, in a real Chromium on the connection that answers from memory. */

const open = async (options: BrowserContextOptions = {}) => {
  await openAlone(options);
  await page.click('.stage:has-text("Ground")');
  await page.waitForSelector('.map canvas');
  // Below the cards, which hide the upper left of the map.
  await page.waitForTimeout(300);
};
const log = (name: string) => logOf(page, name);

describeWindow('the tools of the map', () => {
  it('measures a line as it grows, then reads the ground along it', async () => {
    await open();
    await page.click('button:has-text("Measure")');
    const [from, to] = [at(120, 230), at(220, 270)];
    await clickPlace(page, from);
    await page.waitForTimeout(350);
    const end = await pixelOf(page, to);
    await page.mouse.move(end.x - 40, end.y);
    await page.mouse.move(end.x, end.y, { steps: 4 });
    // Pythagoras, in yards: 600 m east and 240 m south are 646 m, on a bearing of 111.8° of the grid.
    const words = page.locator('.draw-measure');
    await expect.poll(() => words.textContent()).toMatch(/^70\d yd; this leg 70\d yd, 112° true, east$/);
    const before = await keptView(page);
    await page.mouse.dblclick(end.x, end.y);
    await page.waitForSelector('.line-profile svg[aria-label^="Profile: ground from"]');
    const { path } = (await log('map.profile'))[0]!.params as { path: [number, number][] };
    expect(path).toHaveLength(2);
    expect(Math.hypot(path[1]![0] - to[0], path[1]![1] - to[1])).toBeLessThan(15);
    // The double click ended the line and did nothing else.
    await page.waitForTimeout(500);
    expect((await keptView(page)).resolution).toBe(before.resolution);
    expect(await page.textContent('.measure-main')).toMatch(/^70\d yd 112° true, east from start to end$/);
    await page.focus('.along');
    for (let n = 0; n < 4; n++) await page.keyboard.press('ArrowRight');
    expect(await page.textContent('.line-profile figcaption')).toMatch(
      /^7\d yd along: \d+ ft, ground 12° steep, line rises 8 %, deciduous timber$/,
    );
    await page.keyboard.press('End');
    expect(await page.getAttribute('.along', 'aria-valuetext')).toMatch(/line falls 5 %, open ground$/);
    await page.keyboard.press('Escape');
    expect(await page.locator('.measure').count()).toBe(0);
    expect(await log('features.put')).toEqual([]);
  });

  it('measures an area at the keyboard alone, and takes points back', async () => {
    await open();
    await page.focus('.map');
    await page.keyboard.press('m');
    await page.click('.measure button:has-text("Area")');
    await page.focus('.map');
    const { resolution } = await keptView(page);
    await page.keyboard.press('Space');
    for (const key of ['ArrowRight', 'ArrowDown', 'ArrowDown']) {
      await page.keyboard.press(key);
      await page.waitForTimeout(250);
      await page.keyboard.press('Space');
    }
    await page.waitForSelector('.measure:has-text("4 points")');
    await page.keyboard.press('Backspace');
    await page.waitForSelector('.measure:has-text("3 points")');
    await page.keyboard.press('Enter');
    // A right triangle with a pan of the map for either leg: 128 px, as OpenLayers documents it.
    const acres = ((128 * resolution) ** 2 / 2 / 4046.8564224).toFixed(0);
    await page.waitForSelector(`.measure-main:has-text("${acres} acres")`);
    await page.click('.measure button:has-text("Measure another")');
    await page.waitForSelector('.measure:has-text("Click the first point.")');
  });

  it('writes the place under the pointer as it is told to, and remembers how', async () => {
    await open();
    const place = await pixelOf(page, at(250, 250));
    await page.mouse.move(place.x, place.y);
    const where = page.locator('.where');
    await expect.poll(() => where.textContent()).toMatch(/39\.\d{5}° N, 86\.\d{5}° W/);
    await page.selectOption('.style-pick select', 'mgrs');
    await page.mouse.move(place.x + 1, place.y);
    await expect.poll(() => where.textContent()).toMatch(/16S EJ 71\d{3} 6[34]\d{3}/);
    await page.selectOption('.style-pick select', 'minutes');
    await page.mouse.move(place.x, place.y);
    await expect.poll(() => where.textContent()).toMatch(/39° 2\d\.\d{3}′ N, 86° 1\d\.\d{3}′ W/);
    await page.reload();
    await page.waitForSelector('.style-pick select');
    expect(await page.inputValue('.style-pick select')).toBe('minutes');
  });

  it('takes a typed grid reference for a point', async () => {
    await open();
    await page.click('button:has-text("Measure")');
    await page.fill('.draw-typed input', '16S EJ 71010 64110');
    await page.click('.draw-typed button');
    await page.fill('.draw-typed input', '16N 571110 4364110');
    await page.click('.draw-typed button');
    await page.click('.measure button:has-text("Finish")');
    await page.waitForSelector('.measure-main:has-text("109 yd")');
  });

  it('splits a line where it is clicked, and proposes taking a fence away', async () => {
    await open();
    await clickPlace(page, at(105, 222));
    await page.waitForSelector('.feature-form:has-text("Fence")');
    await page.click('.feature-form button:has-text("Split")');
    await clickPlace(page, at(105, 222));
    await expect.poll(() => log('features.putAll')).toHaveLength(1);
    const { features: parts } = (await log('features.putAll'))[0]!.params as {
      features: { id: string; geometry: { coordinates: number[][] }; attributes: object }[];
    };
    // The first part keeps the id; both keep the height, and meet in one place on the old line.
    expect(parts[0]!.id).toBe('f-fence');
    expect(parts[1]!.attributes).toEqual({ height: 1.2 });
    expect(parts[0]!.geometry.coordinates.at(-1)).toEqual(parts[1]!.geometry.coordinates[0]);
    expect(parts.map(({ geometry }) => geometry.coordinates.length)).toEqual([2, 3]);
    await page.click('.feature-form button:has-text("Propose taking it away")');
    await expect.poll(() => log('features.put')).toHaveLength(1);
    expect((await log('features.put'))[0]!.params).toMatchObject({
      feature: { kind: 'fence', status: 'proposed', attributes: { removes: 'f-fence' } },
    });
  });

  it('keeps a season and years as a person types them', async () => {
    await open();
    await clickPlace(page, at(105, 222));
    await page.fill('#field-from', '09-15');
    await page.fill('#field-to', '13-40');
    await page.click('.feature-form button:has-text("Save")');
    // No such day: the form stays and nothing is put.
    expect(await log('features.put')).toEqual([]);
    await page.fill('#field-to', '01-31');
    await page.click('.feature-form button:has-text("Save")');
    await expect.poll(() => log('features.put')).toHaveLength(1);
    expect((await log('features.put'))[0]!.params).toMatchObject({
      feature: { attributes: { from: '09-15', to: '01-31', height: expect.closeTo(1.2, 2) } },
    });
  });

  it('shows the ground from an angle with the map laid over it, and turns at the keyboard', async () => {
    await open();
    await page.click('.stage:has-text("Travel")');
    await page.click('button:has-text("Look at the ground from an angle")');
    await page.waitForSelector('.relief-wait', { state: 'detached' });
    const words = page.locator('.relief-tools [role=status]');
    expect(await words.textContent()).toBe('Looking northeast, 35° down; heights drawn 2 times.');
    /** How much of the view is ground, and how many colours it has. */
    const drawn = () =>
      page.evaluate(() => {
        const canvas = document.querySelector<HTMLCanvasElement>('.relief canvas')!;
        const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
        const pixels = new Uint32Array(data.buffer);
        return {
          share: pixels.filter((pixel) => pixel !== 0).length / pixels.length,
          colours: new Set(pixels).size,
        };
      });
    await expect.poll(async () => (await drawn()).share).toBeGreaterThan(0.15);
    expect((await drawn()).colours).toBeGreaterThan(200);
    await page.focus('.relief-view');
    for (const key of ['ArrowRight', 'ArrowRight', 'ArrowRight', 'ArrowDown', 'ArrowDown'])
      await page.keyboard.press(key);
    expect(await words.textContent()).toBe('Looking northeast, 25° down; heights drawn 2 times.');
    await page.click('.relief-tools button:has-text("Turn right")');
    expect(await words.textContent()).toBe('Looking east, 25° down; heights drawn 2 times.');
    await page.selectOption('.relief-tools select', '1');
    expect(await words.textContent()).toBe('Looking east, 25° down; heights true to scale.');
    // The pointer reads the ground it rests on, and a flag opens its reasons.
    const box = (await page.locator('.relief-view').boundingBox())!;
    await page.mouse.move(box.x + box.width * 0.4, box.y + box.height * 0.55);
    await expect.poll(() => page.textContent('.where')).toMatch(/39\.\d{5}° N.*Elevation/);
    await page.click('.relief-flag:has-text("Neck 2")');
    await page.waitForSelector('.detail-head:has-text("Inside corner and draw")');
    expect(await seriousFindings(page)).toEqual([]);
    await page.focus('.relief-view');
    await page.keyboard.press('Escape');
    await page.waitForSelector('.relief', { state: 'detached' });
    expect(await log('map.heights')).toHaveLength(1);
  });

  for (const colorScheme of ['light', 'dark'] as const)
    it(`gives axe nothing serious to find, ${colorScheme}, at 1024 by 700`, async () => {
      await open({ colorScheme, viewport: { width: 1024, height: 700 } });
      await page.focus('.map');
      await page.keyboard.press('m');
      await page.waitForSelector('.measure');
      const found = await seriousFindings(page);
      await page.fill('.draw-typed input', '16S EJ 71010 64110');
      await page.keyboard.press('Enter');
      await page.fill('.draw-typed input', '16S EJ 71510 63910');
      await page.keyboard.press('Enter');
      await page.click('.measure button:has-text("Finish")');
      await page.waitForSelector('.line-profile');
      await page.click('.measure summary:has-text("Heights")');
      expect([...found, ...(await seriousFindings(page))]).toEqual([]);
    });
});
