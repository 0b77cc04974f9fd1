import type { BrowserContextOptions } from 'playwright-core';
import { expect, it } from 'vitest';
import type { Connection, ServiceEvent, Trouble } from '../../electron/service/contract.ts';
import { at } from './fake/ground.ts';
import { describeWindow, openAlone, page } from './support/alone.ts';
import { seriousFindings } from './support/axe.ts';
import { dropFiles } from './support/browser.ts';
import { type FakeWindow, keptView, logOf, pixelOf } from './support/fake-window.ts';

/**
 * The window alone, in a real Chromium under the hosts' content policy, on a connection that answers from memory.
 * Skipped, and said so, where no Chromium-family browser is installed.
 */

const open = async (options: BrowserContextOptions & { before?: string } = {}) => {
  await openAlone(options);
  await page.waitForSelector('.stage, .start-sheet');
};
const stage = (name: string) => page.click(`.stage:has-text("${name}")`);
const log = (name: string) => logOf(page, name);
const emit = (event: ServiceEvent) =>
  page.evaluate((e) => (window as never as FakeWindow).fake.emit(e), event);
const refuse = (next: Record<string, Trouble>) =>
  page.evaluate((r) => (window as never as FakeWindow).fake.refuse(r), next);
const view = () => keptView(page);
const keptCentre = async () => (await view()).centre;
const pixel = (place: [number, number]) => pixelOf(page, place);

const problem: Trouble = {
  kind: 'problem',
  message: 'notes.txt is no raster and no map file.',
  file: 'notes.txt',
  fix: 'Drop a GeoTIFF, GeoJSON, KML, GPX, zipped Shapefile or GeoPackage.',
  question: null,
};

describeWindow('the window', () => {
  it('lists necks by rank as sentences and opens the reasons of one, flying there', async () => {
    await open();
    await stage('Travel');
    const titles = page.locator('.findings .finding-title');
    await expect.poll(() => titles.allTextContents()).toHaveLength(5);
    expect(await titles.first().textContent()).toBe('Saddle, 46 yd across');
    const before = await view();
    await page.click('[data-finding="neck-3"]');
    await page.waitForSelector('.detail-head:has-text("Creek bend")');
    expect(await page.textContent('.detail')).toContain('lowest way over the ridge');
    expect(await page.textContent('.detail')).toContain('Not firm');
    expect(await page.textContent('.detail')).toContain('North bedding and Bottom field');
    expect(await page.evaluate(() => document.activeElement?.className)).toContain('detail-head');
    // It is in sight: on the map, not under the card of layers.
    const card = (await page.locator('.layers').boundingBox())!;
    const box = (await page.locator('.map').boundingBox())!;
    const shown = async () => {
      const { x, y } = await pixel(at(300, 231.5));
      return x > box.x && x < card.x && y > box.y && y < box.y + box.height;
    };
    await expect.poll(shown).toBe(true);
    expect((await view()).resolution).toBeLessThan(before.resolution);
    await page.keyboard.press('Escape');
    await expect
      .poll(() => page.evaluate(() => (document.activeElement as HTMLElement).dataset.finding))
      .toBe('neck-3');
  });

  it('opens the same reasons from the mark on the map', async () => {
    await open();
    await stage('Travel');
    await page.click('[data-finding="neck-2"]');
    await page.click('.back');
    await page.waitForTimeout(200);
    const { x, y } = await pixel(at(148, 206.5));
    await page.mouse.click(x, y);
    await page.waitForSelector('.detail-head:has-text("Inside corner and draw")');
  });

  it('reads the ground under the pointer and its place on earth', async () => {
    await open();
    const box = (await page.locator('.map').boundingBox())!;
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.waitForSelector('.where .reading:has-text("Slope")');
    const where = await page.textContent('.where');
    expect(where).toMatch(/39\.4\d{4}° N, 86\.1\d{4}° W/);
    await page.selectOption('.style-pick select', 'utm');
    await page.waitForSelector('.where:has-text("UTM 16N 57")');
    expect(await page.textContent('.where')).toMatch(/UTM 16N 57\d{4} E 436\d{4} N/);
  });

  it('shows another property where it lies, with none of the rows of the one before', async () => {
    await open();
    await stage('Travel');
    await page.waitForSelector('[data-finding="neck-1"]');
    const other = await page.evaluate(async () => {
      const summary = (await (window as Window & { hollowgate?: Connection }).hollowgate!.request(
        'property.summary',
        {},
      ))!;
      return {
        ...summary,
        name: 'Elsewhere',
        frame: { ...summary.frame, west: 300_000, north: 4_000_000 },
        tables: [],
      };
    });
    await emit({ type: 'property.changed', summary: other });
    await page.waitForSelector('.property:has-text("Elsewhere")');
    expect(await page.locator('.finding').count()).toBe(0);
    const { west, north, width, height, cellSize } = other.frame;
    const inside = async () => {
      const [x, y] = await keptCentre();
      return x > west && x < west + width * cellSize && y < north && y > north - height * cellSize;
    };
    await expect.poll(inside).toBe(true);
  });

  it('moves by arrow keys and stages by number keys', async () => {
    await open();
    await page.focus('.map');
    const before = await keptCentre();
    await page.keyboard.press('ArrowRight');
    await expect.poll(async () => (await keptCentre())[0]).toBeGreaterThan(before[0] + 10);
    await page.keyboard.press('4');
    expect(await page.textContent('.page-head h2')).toBe('Air');
  });

  it('shows a refusal in plain words, says it to a screen reader, and lets it be put away', async () => {
    await open();
    await refuse({ 'import.finish': problem });
    await dropFiles(page, [{ name: 'notes.txt', size: 10 }]);
    await page.click('dialog button:has-text("Start a new property")');
    const alert = page.locator('[role=alert] .trouble');
    await alert.waitFor();
    const text = await alert.textContent();
    for (const part of [problem.message, problem.file!, problem.fix]) expect(text).toContain(part);
    await alert.locator('button').click();
    await expect.poll(() => alert.count()).toBe(0);
  });

  it('sends dropped files in parts of 8 MB, asks what they do not say, and goes on with the answer', async () => {
    await open({ before: 'window.fake.start({ open: false })' });
    await page.waitForSelector('.start-sheet');
    const question = {
      key: 'verticalUnit',
      choices: [
        { value: 'metre', label: 'Metres' },
        { value: 'foot', label: 'Feet' },
      ],
    };
    await refuse({ 'import.finish': { ...problem, message: 'The file does not say its unit.', question } });
    await dropFiles(page, [{ name: 'elevation.tif', size: 17 * 1024 * 1024 }]);
    await page.click('dialog button:has-text("Feet")');
    await page.waitForSelector('.stage');
    const parts = await log('import.file');
    expect(parts.map((part) => part.bytes)).toEqual([8388608, 8388608, 1048576]);
    expect(parts.map((part) => (part.params as { last: boolean }).last)).toEqual([false, false, true]);
    const finishes = await log('import.finish');
    expect(finishes.map((call) => (call.params as { answers: object }).answers)).toEqual([
      {},
      { verticalUnit: 'foot' },
    ]);
  });

  it('draws a boundary point by point, takes one back and puts it again, and stores a closed ring', async () => {
    await open();
    await stage('Work');
    await page.click('.draw-kind:has-text("Boundary")');
    const box = (await page.locator('.map').boundingBox())!;
    const click = (dx: number, dy: number) =>
      page.mouse.click(box.x + box.width / 2 + dx, box.y + box.height / 2 + dy);
    await click(-150, -100);
    await click(150, -90);
    await click(140, 90);
    await page.waitForSelector('.draw-words:has-text("3 points")');
    await page.click('.draw-bar button:has-text("Undo")');
    await page.waitForSelector('.draw-words:has-text("2 points")');
    await page.click('.draw-bar button:has-text("Redo")');
    await page.waitForSelector('.draw-words:has-text("3 points")');
    await click(-150, 110);
    await page.waitForSelector('.draw-words:has-text("4 points")');
    await page.click('.draw-bar button:has-text("Finish")');
    await page.waitForSelector('.feature-form');
    const [put] = await log('features.put');
    const { feature } = put!.params as {
      feature: { kind: string; geometry: { type: string; coordinates: number[][][] } };
    };
    expect(feature.kind).toBe('boundary');
    expect(feature.geometry.type).toBe('Polygon');
    const ring = feature.geometry.coordinates[0]!;
    expect(ring).toHaveLength(5);
    expect(ring[4]).toEqual(ring[0]);
    expect(await page.textContent('.masthead .stale')).toContain('changed');
    // Undo now takes back the whole edit.
    await page.keyboard.press('Escape');
    await page.click('.masthead button:has-text("Undo")');
    expect(await log('edit.undo')).toHaveLength(1);
  });

  it('draws a fence by keyboard alone and keeps its height in metres', async () => {
    await open();
    await page.keyboard.press('6');
    await page.focus('.draw-kind:has-text("Fence")');
    await page.keyboard.press('Enter');
    await page.focus('.map');
    await page.keyboard.press('Space');
    await page.keyboard.press('ArrowRight');
    await page.waitForTimeout(150);
    await page.keyboard.press('Space');
    await page.waitForSelector('.draw-words:has-text("2 points")');
    await page.keyboard.press('Enter');
    await page.waitForSelector('.feature-form');
    await page.fill('#field-height', '4');
    await page.click('.feature-form button:has-text("Save")');
    await expect.poll(() => log('features.put')).toHaveLength(2);
    const last = (await log('features.put'))[1]!.params as {
      feature: { attributes: { height: number }; geometry: { coordinates: number[][] } };
    };
    expect(last.feature.attributes.height).toBeCloseTo(4 * 0.3048, 9);
    const [a, b] = last.feature.geometry.coordinates as [number[], number[]];
    expect(b[0]! - a[0]!).toBeGreaterThan(50);
    expect(b[1]).toBeCloseTo(a[1]!, 6);
  });

  it('takes what a soil test says of a proposed food plot, in pounds an acre', async () => {
    await open();
    await page.keyboard.press('6');
    await page.focus('.draw-kind:has-text("Food")');
    await page.keyboard.press('Enter');
    await page.focus('.map');
    for (const key of ['Space', 'ArrowRight', 'Space', 'ArrowDown', 'Space', 'Enter']) {
      await page.keyboard.press(key);
      await page.waitForTimeout(150);
    }
    await page.waitForSelector('.feature-form');
    expect(await page.locator('#field-lime').count()).toBe(0);
    await page.selectOption('.feature-form [name=status]', 'proposed');
    await page.click('.feature-form button:has-text("Save")');
    await page.waitForSelector('#field-lime');
    expect(await page.textContent('label[for=field-lime]')).toContain('lb/acre');
    await page.fill('#field-lime', '3000');
    await page.fill('#field-nitrogen', '0');
    await page.click('.feature-form button:has-text("Save")');
    await expect.poll(() => log('features.put')).toHaveLength(3);
    const { feature } = (await log('features.put'))[2]!.params as {
      feature: { attributes: Record<string, number> };
    };
    // 0.45359237 kg on 4,046.856 m², by definition.
    expect(feature.attributes.lime).toBeCloseTo((3000 * 0.45359237) / 4046.8564224, 9);
    expect(feature.attributes.nitrogen).toBe(0);
    expect(feature.attributes).not.toHaveProperty('potash');
    await expect.poll(() => page.inputValue('#field-lime')).toBe('3000');
  });

  it('keeps what a form does not change: a proposed barricade stays proposed', async () => {
    await open();
    await stage('Work');
    await page.click('[data-finding="f-barricade"]');
    await page.fill('.feature-form [name=name]', 'Felled tops');
    await page.click('.feature-form button:has-text("Save")');
    await expect.poll(() => log('features.put')).toHaveLength(1);
    const { feature } = (await log('features.put'))[0]!.params as { feature: object };
    expect(feature).toMatchObject({
      id: 'f-barricade',
      status: 'proposed',
      name: 'Felled tops',
      attributes: {},
    });
    await page.keyboard.press('Escape');
    await page.click('[data-finding="f-road"]');
    expect(await page.inputValue('#field-class')).toBe('county');
  });

  it('moves a point of a chosen feature by dragging it', async () => {
    await open();
    await stage('Work');
    await page.click('[data-finding="f-barricade"]');
    await page.waitForTimeout(200);
    const { resolution } = await view();
    const from = await pixel(at(252, 172));
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(from.x + 30, from.y - 20, { steps: 4 });
    await page.mouse.up();
    await expect.poll(() => log('features.put')).toHaveLength(1);
    const put = (await log('features.put'))[0]!.params as {
      feature: { geometry: { coordinates: [number, number][] } };
    };
    const [first, second] = put.feature.geometry.coordinates;
    expect(first).toEqual(at(235, 165));
    const moved = at(252, 172);
    expect(second![0]).toBeCloseTo(moved[0] + 30 * resolution, 0);
    expect(second![1]).toBeCloseTo(moved[1] + 20 * resolution, 0);
  });

  it('removes a chosen feature by the Delete key', async () => {
    await open();
    await stage('Work');
    await page.click('[data-finding="f-fence"]');
    await page.keyboard.press('Delete');
    await expect
      .poll(() => log('features.remove'))
      .toEqual([{ name: 'features.remove', params: { id: 'f-fence' }, bytes: 0 }]);
    await expect.poll(() => page.locator('[data-finding="f-fence"]').count()).toBe(0);
  });

  it('runs again with a changed assumption', async () => {
    await open();
    await stage('Travel');
    await page.click('[role=tab]:has-text("Assumptions")');
    // By subject, closed until one is opened or sought.
    const subjects = page.locator('.subject > summary');
    await expect
      .poll(() => subjects.allTextContents())
      .toEqual(['Being seen in the open 1, 1 by the set', 'Fences and gates 1']);
    expect(await page.isVisible('#weight-open')).toBe(false);
    await page.fill('#assumption-sought', 'ground open');
    expect(await page.locator('.assumption').count()).toBe(1);
    expect(await page.textContent('.assumption')).toContain('By this set 6, usually 5.');
    await page.fill('#weight-open', '9');
    await page.keyboard.press('Enter');
    await expect.poll(() => log('settings.change')).toHaveLength(1);
    expect((await log('settings.change'))[0]!.params).toEqual({ patch: { weights: { open: 9 } } });
    await expect.poll(() => log('scout.start')).toHaveLength(1);
    // What is one's own is marked, and goes back.
    await page.waitForSelector('.assumption.changed:has-text("Yours.")');
    await page.fill('#assumption-sought', 'no such thing');
    await page.waitForSelector('.empty:has-text("No assumption answers to that.")');
    await page.fill('#assumption-sought', '');
    await page.check('#assumption-changed');
    expect(await page.locator('.assumption').count()).toBe(1);
    await page.click('.own-assumptions button:has-text("Put it back")');
    await expect
      .poll(async () => (await log('settings.change')).at(-1)!.params)
      .toEqual({ patch: { weights: { open: null } } });
  });

  it('shows a run with what is left, and stops it', async () => {
    await open();
    await emit({
      type: 'scout.progress',
      run: 'r',
      fraction: 0.42,
      doing: 'Filling depressions',
      remaining: 21,
    });
    const bar = page.getByRole('progressbar');
    await bar.waitFor();
    expect(await bar.getAttribute('aria-valuenow')).toBe('42');
    expect(await page.textContent('.run')).toContain('about 20 s left');
    await page.click('.run button:has-text("Stop")');
    expect(await log('scout.cancel')).toHaveLength(1);
    await emit({ type: 'scout.cancelled', run: 'r' });
    await expect.poll(() => bar.count()).toBe(0);
  });

  it('says where an export went', async () => {
    await open();
    await stage('Report');
    await page.click('button:has-text("Export everything")');
    await page.waitForSelector('.written:has-text("Fake hollow export")');
    expect(await page.textContent('.written')).toContain('necks.geojson');
  });

  it('exports from the desktop window’s menu wherever one is, and hands a written file over to be dragged', async () => {
    await open();
    // What the preload adds to the connection.
    await page.evaluate(() => {
      const dragged: string[] = [];
      Object.assign(window, { dragged });
      Object.assign((window as never as { hollowgate: object }).hollowgate, {
        dragOut: (file: string) => dragged.push(file),
      });
    });
    await stage('Cover');
    await emit({ type: 'host.menu', item: 'export' });
    await page.waitForSelector('.stage[aria-current]:has-text("Report")');
    await page.waitForSelector('.written:has-text("Fake hollow export")');
    await page.dispatchEvent('.written li:has-text("necks.geojson")', 'dragstart');
    const dragged = await page.evaluate(() => (window as never as { dragged: string[] }).dragged);
    expect(dragged).toHaveLength(1);
    expect(dragged[0]).toContain('necks.geojson');
  });

  it('names the example as invented, always in sight', async () => {
    await open();
    expect(await page.isVisible('.invented:has-text("INVENTED EXAMPLE")')).toBe(true);
  });

  it('keeps everything within reach at 200 % zoom of either window size', async () => {
    for (const viewport of [
      { width: 720, height: 450 },
      { width: 512, height: 350 },
    ]) {
      await open({ viewport, deviceScaleFactor: 2 });
      const wide = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(wide).toBeLessThanOrEqual(0);
      await stage('Travel');
      await page.locator('[data-finding="neck-5"]').scrollIntoViewIfNeeded();
      expect(await page.isVisible('[data-finding="neck-5"]')).toBe(true);
      if (viewport.width === 720) await page.context().close();
    }
  });

  for (const colorScheme of ['light', 'dark'] as const)
    it(`gives axe nothing serious to find on any stage, ${colorScheme}`, async () => {
      await open({ colorScheme });
      const found: string[] = [];
      const check = async (where: string) => {
        for (const line of await seriousFindings(page)) found.push(`${where}: ${line}`);
      };
      for (const name of ['Ground', 'Cover', 'Travel', 'Air', 'Stands', 'Work', 'Report']) {
        await stage(name);
        await page.waitForTimeout(60);
        await check(name);
      }
      await stage('Travel');
      await page.click('[data-finding="neck-3"]');
      await check('reasons');
      await page.keyboard.press('Escape');
      await page.click('[role=tab]:has-text("Assumptions")');
      await check('assumptions');
      await stage('Work');
      await page.click('.draw-kind:has-text("Fence")');
      await check('drawing');
      await page.click('button:has-text("Stop drawing")');
      await page.click('[data-finding="f-fence"]');
      await check('feature');
      await page.click('.masthead >> text=Open…');
      await page.waitForSelector('.start-sheet');
      await emit({ type: 'scout.failed', run: 'r', trouble: problem });
      await page.waitForSelector('.trouble');
      await check('start with a trouble');
      await dropFiles(page, [{ name: 'a.tif', size: 1 }]);
      await page.waitForSelector('dialog[open]');
      await check('question');
      expect(found).toEqual([]);
    });
});
