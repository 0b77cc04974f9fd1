import type { BrowserContextOptions } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { bedDepth, channelSentence } from '../../renderer/words/channels.ts';
import { at } from './fake/ground.ts';
import { describeWindow, openAlone, page } from './support/alone.ts';
import { seriousFindings } from './support/axe.ts';
import { clickPlace, type FakeWindow, logOf } from './support/fake-window.ts';

/** Questions put to the ground, in a real Chromium on the connection that answers from memory. */

const open = async (options: BrowserContextOptions & { before?: string } = {}) => {
  await openAlone(options);
  await page.click('.stage:has-text("Ground")');
  await page.waitForSelector('.finding');
  await page.waitForTimeout(300);
};
const leaf = (name: string) => page.click(`[role=tab]:has-text("${name}")`);
const tool = (name: string) => page.click(`.draw-kind:has-text("${name}")`);
const log = (name: string) => logOf(page, name);
const clickAt = (place: [number, number]) => clickPlace(page, place);

describe('depth of a channel in words', () => {
  it('takes the lower bank, and says when nothing was measured', () => {
    expect(bedDepth({ left: 2.4, right: 2.1 })).toBe(2.1);
    expect(bedDepth({ left: null, right: 2.1 })).toBe(2.1);
    expect(channelSentence({ left: 0.3048, right: 1.524, width: 9.144, source: 'elevation' }, 'us')).toBe(
      'The bed lies 1.0 ft below the left bank and 5.0 ft below the right bank, 10 yd wide when full; measured on the elevation.',
    );
    expect(channelSentence({ left: null, right: null, width: null, source: 'cells too coarse' }, 'us')).toBe(
      'How deep the bed lies: not measurable at this cell size.',
    );
  });
});

describeWindow('asking the ground', () => {
  it('asks from where a drawn way is seen, and names who sees most of it', async () => {
    await open();
    await leaf('Ask');
    await tool('From where a way is seen');
    const ways = page.locator('#way-seen option:not([disabled])');
    expect(await ways.count()).toBeGreaterThan(0);
    const id = (await ways.first().getAttribute('value'))!;
    await page.selectOption('#way-seen', id);
    await page.waitForSelector('.answer:has-text("sees up to 62% of it")');
    await page.waitForSelector('.answer:has-text("sees none of it")');
    const [asked] = await log('ground.wayView');
    expect(asked!.params).toMatchObject({ feature: id, radius: 600 });
    expect(await seriousFindings(page)).toEqual([]);
  });

  it('asks what drains to a clicked place, and takes the answer off the map', async () => {
    await open();
    await leaf('Ask');
    await tool('What drains here');
    await page.waitForSelector('.draw-bar:has-text("Click where the water passes.")');
    await clickAt(at(160, 200));
    await page.waitForSelector('.answer:has-text("30 acres drain to this spot")');
    const [asked] = await log('ground.catchment');
    const { x, y } = asked!.params as { x: number; y: number };
    expect(Math.hypot(x - at(160, 200)[0], y - at(160, 200)[1])).toBeLessThan(15);
    // While a place is waited for, a click on a mark chooses nothing.
    await clickAt(at(220, 140));
    await expect.poll(() => log('ground.catchment')).toHaveLength(2);
    expect(await page.locator('.detail').count()).toBe(0);
    await page.click('button:has-text("Take off the map")');
    expect(await page.locator('.answer .para').count()).toBe(0);
    await page.keyboard.press('Escape');
    expect(await page.locator('.draw-bar').count()).toBe(0);
  });

  it('shows what is seen as a picture with its legend, from heights typed in feet', async () => {
    await open();
    await leaf('Ask');
    await tool('What is seen from here');
    await page.fill('#eye-height', '16');
    await page.keyboard.press('Tab');
    await page.selectOption('#view-through', 'vegetation');
    await clickAt(at(160, 200));
    await page.waitForSelector('.answer:has-text("20 acres in view")');
    const [asked] = await log('ground.view');
    const params = asked!.params as { observerHeight: number; radius: number; through: string };
    expect(params.observerHeight).toBeCloseTo(16 * 0.3048, 6);
    expect(params.through).toBe('vegetation');
    await page.waitForSelector('.layer:has-text("View through cover")');
    await expect.poll(async () => (await log('map.overlayTile')).length).toBeGreaterThan(0);
    expect((await log('map.overlayLegend'))[0]!.params).toEqual({ overlay: 'view-1' });
    await page.waitForSelector('.legend:has-text("Hidden")');
    expect(await page.textContent('.answer')).toContain('not safe');
    await page.click('button:has-text("Ask again from there")');
    await expect.poll(() => log('ground.view')).toHaveLength(2);
    await page.click('button:has-text("Take off the map")');
    await expect.poll(() => page.locator('.layer:has-text("View through cover")').count()).toBe(0);
  });

  it('looks along a line by keyboard alone and marks the first ground that hides its end', async () => {
    await open();
    await leaf('Ask');
    await page.focus('.draw-kind:has-text("Line of sight")');
    await page.keyboard.press('Enter');
    await page.focus('.map');
    await page.keyboard.press('Space');
    await page.waitForSelector('.draw-bar:has-text("Click what it looks at.")');
    for (let n = 0; n < 4; n++) {
      await page.keyboard.press('ArrowUp');
      await page.waitForTimeout(150);
    }
    await page.keyboard.press('Space');
    await page.waitForSelector('.profile');
    const { from, to } = (await log('ground.sightline'))[0]!.params as { from: number[]; to: number[] };
    expect(to[1]! - from[1]!).toBeGreaterThan(100);
    const sentence = await page.textContent('.answer .para');
    const blocks = await page.locator('.profile-block').count();
    expect(blocks).toBe(sentence === 'Hidden by the ridge.' ? 1 : 0);
    // From the middle over the ridge to its far side nothing is in sight.
    expect(sentence).toBe('Hidden by the ridge.');
    const along = Number(await page.getAttribute('.profile-block path', 'data-distance'));
    expect(along).toBeGreaterThan(0);
    expect(along).toBeLessThan(to[1]! - from[1]!);
  });

  it('shows how far a question has come, and takes it back without a trouble', async () => {
    await open();
    await page.evaluate(() => (window as never as FakeWindow).fake.hold('ground.view'));
    await leaf('Ask');
    await tool('What is seen from here');
    await clickAt(at(160, 200));
    const bar = page.getByRole('progressbar', { name: 'Looking round' });
    await bar.waitFor();
    await page.evaluate(() =>
      (window as never as FakeWindow).fake.emit({ type: 'ask.progress', ask: 'ground.view', fraction: 0.6 }),
    );
    await expect.poll(() => bar.getAttribute('aria-valuenow')).toBe('60');
    await page.click('.asking button:has-text("Stop")');
    await expect.poll(() => bar.count()).toBe(0);
    expect((await log('ask.cancel')).map(({ params }) => params)).toEqual([{ ask: 'ground.view' }]);
    await page.waitForTimeout(100);
    expect(await page.locator('.trouble').count()).toBe(0);
  });

  it('tells the sun’s times of a day and lays the shade of an hour over the map', async () => {
    await open();
    await leaf('Ask');
    await tool('Sun and shade');
    await page.fill('#sun-day', '2026-11-07');
    await page.fill('#sun-hour', '07:30');
    await page.click('button:has-text("Show sun and shade")');
    await page.waitForSelector('.answer:has-text("keeps 34% of the ground in the shade")');
    expect((await log('ground.shadow'))[0]!.params).toEqual({ date: '2026-11-07', hour: 7.5 });
    const answer = await page.textContent('.answer');
    expect(answer).toContain('06:05 UTC-6');
    expect(answer).toContain('not on this day');
    await page.waitForSelector('.layer:has-text("Shade of the terrain")');
    // Another stage keeps its own map.
    await page.click('.stage:has-text("Cover")');
    await expect.poll(() => page.locator('.layer:has-text("Shade of the terrain")').count()).toBe(0);
  });

  it('moves where a drainage line starts, and lets the ground choose again', async () => {
    await open();
    await leaf('Water');
    await page.waitForSelector('.page:has-text("constant-drop test")');
    await page.fill('#drainage-start', '10');
    await page.keyboard.press('Enter');
    await expect.poll(() => log('settings.change')).toHaveLength(1);
    const { patch } = (await log('settings.change'))[0]!.params as {
      patch: { ground: { drainageThreshold: number } };
    };
    expect(patch.ground.drainageThreshold).toBeCloseTo(10 * 4046.8564224, 3);
    await expect.poll(() => log('scout.start')).toHaveLength(1);
    await page.evaluate(() =>
      (window as never as FakeWindow).fake.emit({ type: 'scout.done', run: 'fake-run', seconds: 1 }),
    );
    // The drainage table would have a new key by then; the answer is asked for again with it.
    await leaf('Forms');
    await leaf('Water');
    await page.click('button:has-text("Let the ground choose")');
    await expect.poll(() => log('settings.change')).toHaveLength(2);
    expect((await log('settings.change'))[1]!.params).toEqual({
      patch: { ground: { drainageThreshold: null } },
    });
  });

  it('lists channels, deepest first, and those that cannot be measured', async () => {
    await open();
    await leaf('Water');
    await page.waitForSelector('[data-finding="ch2"]');
    const ids = await page
      .locator('.finding')
      .evaluateAll((rows) => rows.map((row) => (row as HTMLElement).dataset.finding));
    expect(ids).toEqual(['ch2', 'ch1']);
    expect(await page.textContent('.page')).toContain('1 of 3 places along the lines: not measurable');
    await page.click('[data-finding="ch2"]');
    await page.waitForSelector('.detail-head:has-text("Channel")');
    expect(await page.textContent('.detail')).toContain('7.9 ft');
  });

  it('checks off the public files and says what each missing one costs', async () => {
    await open();
    await leaf('To fetch');
    await page.waitForSelector('.fetch li');
    expect(await page.textContent('.fetch .have')).toContain('USGS_1M_16_x57y437');
    const lacking = await page.textContent('.fetch .lacking');
    expect(lacking).toContain('Not here');
    expect(lacking).toContain('Without a wind record no stand can be rated.');
  });

  for (const colorScheme of ['light', 'dark'] as const)
    it(`gives axe nothing serious to find, ${colorScheme}, at 1024 by 700`, async () => {
      await open({ colorScheme, viewport: { width: 1024, height: 700 } });
      const found: string[] = [];
      const check = async (where: string) => {
        for (const line of await seriousFindings(page)) found.push(`${where}: ${line}`);
      };
      await leaf('Ask');
      await tool('Line of sight');
      await clickAt(at(160, 260));
      await clickAt(at(160, 150));
      await page.waitForSelector('.profile');
      await check('line of sight');
      await tool('Sun and shade');
      await page.click('button:has-text("Show sun and shade")');
      await page.waitForSelector('.answer .para');
      await check('sun');
      await leaf('Water');
      await page.waitForSelector('#drainage-start');
      await check('water');
      await leaf('To fetch');
      await page.waitForSelector('.fetch li');
      await check('to fetch');
      expect(found).toEqual([]);
    });
});
