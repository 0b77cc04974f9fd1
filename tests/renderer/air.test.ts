import type { BrowserContextOptions } from 'playwright-core';
import { expect, it } from 'vitest';
import { at } from './fake/ground.ts';
import { describeWindow, openAlone, page } from './support/alone.ts';
import { seriousFindings } from './support/axe.ts';
import { clickPlace, type FakeWindow, logOf, pixelOf } from './support/fake-window.ts';

/** The stage of the air, in a real Chromium on a connection that answers from memory. */

const open = async (options: BrowserContextOptions = {}) => {
  await openAlone(options);
  await page.click('.stage:has-text("Air")');
  await page.waitForSelector('.answer:has-text("At 06:00 UTC-6")');
};
const asked = async (name: string) => (await logOf(page, name)).map(({ params }) => params as never);
const answer = (text: string) => page.waitForSelector(`.answer:has-text("${text}")`);

describeWindow('the air', () => {
  it('steps the clock hour by hour, asks the next hours ahead and none twice', async () => {
    await open();
    // The hour wanted and the three after it.
    await expect
      .poll(async () => (await asked('air.clock')).map(({ hour }: { hour: number }) => hour))
      .toEqual([6, 7, 8, 9]);
    expect((await asked('air.clock'))[0]).toEqual({
      date: `${new Date().getFullYear()}-11-05`,
      hour: 6,
      windFrom: 0,
      windSpeed: 0,
      cloud: 0,
    });
    expect(await page.textContent('.answer .measures')).toContain('calm drainage');
    expect(await page.textContent('.answer')).toContain('Cold air sliding downhill drives it');
    await page.click('button:has-text("One hour on")');
    await answer('At 07:00 UTC-6');
    await page.click('button:has-text("One hour back")');
    await answer('At 06:00 UTC-6');
    await expect
      .poll(async () => (await asked('air.clock')).map(({ hour }: { hour: number }) => hour))
      .toEqual([6, 7, 8, 9, 10]);
    // Over midnight the day changes with the hour.
    await page.focus('#clock-hour');
    await page.keyboard.press('Home');
    await answer('At 00:00 UTC-6');
    await page.click('button:has-text("One hour back")');
    await answer('At 23:00 UTC-6');
    expect(await page.inputValue('#clock-day')).toBe(`${new Date().getFullYear()}-11-04`);
  });

  it('takes a wind of the season, a typed one, and says what drives the air then', async () => {
    await open();
    await page.fill('#clock-hour', '13');
    await answer('At 13:00 UTC-6');
    // Rises at 06:05, sets at 16:58: one in the afternoon is evening by thirds of the daylight only after 13:20.
    await page.click('[aria-label="Common winds of midday"] button:has-text("W 8.9 mph")');
    await answer('The wind drives it');
    expect((await asked('air.clock')).at(-1)).toMatchObject({ windFrom: 270, windSpeed: 4 });
    expect(await page.inputValue('#wind-from')).toBe('270');
    await page.fill('#wind-bearing', '200');
    await page.keyboard.press('Tab');
    expect(await page.inputValue('#wind-from')).toBe('exact');
    await expect
      .poll(async () =>
        (await asked('air.clock')).some(({ windFrom }: { windFrom: number }) => windFrom === 200),
      )
      .toBe(true);
    await page.fill('#wind-bearing', '900');
    await page.keyboard.press('Tab');
    expect(await page.inputValue('#wind-bearing')).toBe('200');
  });

  it('takes cloud in tenths or as the record has it, and creeks dry, normal or high', async () => {
    await open();
    await page.selectOption('#clock-sky', '7');
    await expect.poll(async () => (await asked('air.clock')).at(-1)).toMatchObject({ cloud: 0.7 });
    // A calm has no cloud in this record; the wind from the west has.
    expect(await page.textContent('#clock-sky option[value=record]')).toContain('not told then');
    await page.selectOption('#wind-from', '270');
    await page.selectOption('#clock-sky', 'record');
    // The record's cloud is asked for all hours of the day at once, so that they share one night.
    const cloudiest = ({ cloud }: { cloud: number | number[] }) => Math.max(...[cloud].flat());
    await expect.poll(async () => (await asked('air.clock')).map(cloudiest)).toContain(0.625);
    const { cloud } = (await asked('air.clock')).at(-1)!;
    expect(cloud).toHaveLength(24);
    await page.selectOption('#scent-from', 'f-stand');
    await answer('Goes 200 yd east');
    expect(cloudiest((await asked('air.scent')).at(-1)!)).toBe(0.625);
    const before = (await asked('air.scent')).length;
    await page.selectOption('#creek-stage', 'high');
    await expect.poll(() => asked('settings.change')).toEqual([{ patch: { air: { creekStage: 'high' } } }]);
    // The answer to the same question may be another now.
    await expect.poll(async () => (await asked('air.scent')).length).toBeGreaterThan(before);
  });

  it('plays the day until its end, and stops when told', async () => {
    await open({ reducedMotion: 'no-preference' });
    await page.fill('#clock-hour', '21');
    await answer('At 21:00');
    await page.click('button:has-text("Play the day")');
    await answer('At 22:00');
    await answer('At 23:00');
    await page.waitForSelector('button:has-text("Play the day")');
    await page.fill('#clock-hour', '8');
    await page.click('button:has-text("Play the day")');
    await page.click('button:has-text("Stop playing")');
    await page.waitForTimeout(1500);
    expect(await page.textContent('.clock-face')).toContain('08:00');
  });

  it('reads the air under the pointer, and says where its way is not known', async () => {
    await open();
    await page.focus('.map');
    await page.keyboard.press('Enter');
    await page.waitForSelector('.measures:has-text("towards S at 1.8 mph, cold air")');
    const { x, y } = await pixelOf(page, at(140, 150));
    await page.mouse.move(x, y);
    await page.waitForSelector('.measures:has-text("way not known")');
  });

  it('follows scent from a stand, again when the hour, the wind or the stand changes', async () => {
    await open();
    await page.selectOption('#scent-from', 'f-stand');
    await answer('Goes 310 yd south, misses travel.');
    const rows = await page.locator('.answer tbody tr').allTextContents();
    expect(rows).toEqual(['Carries100 yd200 yd400 yd or more', 'Travel touched0%12%20%']);
    await page.waitForSelector('[aria-label="When the air turns here"]:has-text("From 08:20 UTC-6")');
    expect(await page.textContent('.page')).toContain('Reaches 55 yd in45 s');
    expect(await page.textContent('.page')).toContain('Reaches 109 yd in3 min');
    const [x, y] = at(216, 150);
    expect((await asked('air.scent'))[0]).toMatchObject({ x, y, height: 5, hour: 6, windSpeed: 0 });
    expect(await page.isChecked('.layer:has-text("Scent") input >> nth=-1')).toBe(true);
    await page.selectOption('#wind-from', '270');
    await answer('Goes 200 yd east, meets 12% of travel.');
    const before = (await asked('air.scent')).length;
    await page.evaluate(
      ([east, north]) =>
        (
          window as never as { hollowgate: { request(name: string, params: object): Promise<object> } }
        ).hollowgate
          .request('features.put', {
            feature: {
              id: 'f-stand',
              kind: 'stand',
              status: 'existing',
              name: 'Saddle stand',
              geometry: { type: 'Point', coordinates: [east, north] },
              attributes: { seatHeight: 5 },
              source: 'drawn',
            },
          })
          .then((summary) =>
            (window as never as FakeWindow).fake.emit({ type: 'property.changed', summary } as never),
          ),
      at(230, 170),
    );
    await expect.poll(async () => (await asked('air.scent')).length).toBeGreaterThan(before);
    expect((await asked('air.scent')).at(-1)).toMatchObject({ x: at(230, 170)[0], y: at(230, 170)[1] });
  });

  it('lets scent go at a spot clicked or taken at the cross, from a seat in feet', async () => {
    await open();
    await page.click('button:has-text("Click a spot")');
    await clickPlace(page, at(150, 150));
    await answer('Goes 310 yd south');
    await page.fill('#scent-height', '20');
    await page.keyboard.press('Tab');
    await expect
      .poll(async () => ((await asked('air.scent')).at(-1) as never as { height: number }).height)
      .toBeCloseTo(6.096, 6);
    expect(await page.textContent('.page')).toContain('PinesRises over the banks againmarked on the map');
  });

  it('tries a stand under every wind, with the verdict of each, the turns and the deer’s wind', async () => {
    await open();
    await page.click('#leaf-season');
    await page.evaluate(() => (window as never as FakeWindow).fake.hold('air.stand'));
    await page.click('button:has-text("Try every wind")');
    await page.getByRole('progressbar', { name: 'Trying every wind' }).waitFor();
    await page.click('.asking button:has-text("Stop")');
    expect(await asked('ask.cancel')).toEqual([{ ask: 'air.stand' }]);
    await page.evaluate(() => (window as never as FakeWindow).fake.letGo('air.stand'));
    await page.click('button:has-text("Try every wind")');
    await page.waitForSelector('table.winds');
    expect((await asked('air.stand')).at(-1)).toEqual({ stand: 'f-stand' });
    await page.selectOption('#stand-season', '12');
    await page.click('button:has-text("Try every wind")');
    await expect
      .poll(async () => (await asked('air.stand')).at(-1))
      .toMatchObject({ season: { from: { month: 12, day: 1 }, to: { month: 12, day: 31 } } });
    await page.waitForSelector('table.winds');
    expect(await page.locator('table.winds tbody tr').count()).toBe(17);
    expect(await page.getByRole('button', { name: 'W, morning: clean, 40% of hours' }).count()).toBe(1);
    expect(await page.getByRole('button', { name: 'calm, night: hangs, 25% of hours' }).count()).toBe(1);
    await page.getByRole('button', { name: 'S, morning: meets deer, 20% of hours' }).focus();
    await page.keyboard.press('Enter');
    await page.waitForSelector('.told:has-text("Goes downwind of S.")');
    const text = await page.textContent('.page');
    expect(text).toContain('starts down at 16:20');
    expect(text).toContain('W, morning: 70% of travel, 40% of hours');
    // The verdict's own hour and wind, on the map.
    await page.click('button:has-text("Show it on the map")');
    await answer('At 08:00 UTC-6');
    expect((await asked('air.scent')).at(-1)).toMatchObject({ hour: 8, windFrom: 180, windSpeed: 4 });
  });

  it('holds each trail to each wind, draws its pieces, and proposes new bedding', async () => {
    await open();
    await page.click('#leaf-deer');
    // The wind that blows most is shown first.
    await page.waitForSelector('.section:has-text("Trails with wind from W")');
    const trail = page.locator('[data-finding="trails Pines to Beans"]');
    // Two trails run there, three quarters of the travel on the first.
    expect(await trail.textContent()).toContain('2 trails, 80% of travel');
    expect(await trail.textContent()).toContain('25% into it, 50% across, 25% with it behind');
    expect(await trail.textContent()).toContain('Runs downwind of Pines (from 100 yd)');
    await page.click('.trail-winds button:text-is("N")');
    expect(await trail.textContent()).toContain('Runs downwind of no bedding');
    await trail.click();
    await page.waitForSelector('.facts:has-text("all 2 from Pines to Beans")');
    expect(await page.textContent('[data-finding="new-bedding-0"]')).toContain('31% of daylight hours');
    expect(await page.textContent('.lines.doubts')).toContain('Whether there are deer');
    await page.selectOption('#trails-season', 'year');
    await expect.poll(async () => (await asked('air.trails')).at(-1)).toEqual({ season: null });
    expect(await seriousFindings(page)).toEqual([]);
  });

  it('follows a walker along a drawn way either way, and along one that is clicked', async () => {
    await open();
    const names = await page.locator('#walked-way option').allTextContents();
    expect(names.length).toBeGreaterThan(0);
    await page.selectOption('#walked-from', 'back');
    await page.selectOption('#walked-pace', '0.5');
    await page.click('button:has-text("Follow the walker")');
    await answer('drags scent through bedding (Pines)');
    expect((await asked('air.wayScent')).at(-1)).toMatchObject({
      way: { reversed: true },
      pace: 0.5,
      hour: 6,
      windSpeed: 0,
    });
    const table = page.locator('table:has(caption:has-text("Minutes whose scent meets deer, 1 of 2"))');
    expect(await table.locator('tbody tr').allTextContents()).toEqual(['after 59 s8%Pines']);
    await page.click('button:has-text("One hour on")');
    await answer('The clock has moved since');
    await page.click('button:has-text("Click a way")');
    await clickPlace(page, at(150, 150));
    await clickPlace(page, at(180, 160));
    await page.click('button:has-text("Follow the walker")');
    await expect
      .poll(async () => (await asked('air.wayScent')).at(-1) as never as { way: { path: number[][] } })
      .toMatchObject({ hour: 7 });
    const { way } = (await asked('air.wayScent')).at(-1) as never as { way: { path: number[][] } };
    expect(way.path).toHaveLength(2);
    // Walked the other way: the second click is the start.
    expect(way.path[0]![0]).toBeGreaterThan(way.path[1]![0]!);
  });

  it('draws the rose with its numbers beside it, by season, with nothing serious for axe', async () => {
    await open({ viewport: { width: 1024, height: 700 } });
    await page.click('#leaf-wind');
    await page.waitForSelector('svg[aria-label^="Rose of the morning"]');
    expect(await page.textContent('tr:has(th:text-is("W")) td')).toBe('40%');
    expect(await page.textContent('tr:has(th:text-is("Calm")) td')).toBe('25%');
    expect(await page.locator('tbody tr').count()).toBe(18);
    await page.selectOption('#rose-part', 'first light to early afternoon');
    await page.waitForSelector('caption:has-text("first light to early afternoon, 300 hours")');
    await page.selectOption('#rose-season', '2');
    await expect
      .poll(async () => (await asked('air.rose')).at(-1))
      .toEqual({ season: { from: { month: 2, day: 1 }, to: { month: 2, day: 29 } } });
    await page.selectOption('#rose-season', 'own');
    await page.selectOption('#rose-to-month', '12');
    await page.fill('#rose-to-day', '40');
    await page.keyboard.press('Tab');
    expect(await page.inputValue('#rose-to-day')).toBe('15');
    await page.focus('button:has-text("Count the wind")');
    await page.keyboard.press('Enter');
    await expect
      .poll(async () => (await asked('air.rose')).at(-1))
      .toEqual({ season: { from: { month: 10, day: 1 }, to: { month: 12, day: 15 } } });
    expect(await seriousFindings(page)).toEqual([]);
  });

  for (const colorScheme of ['light', 'dark'] as const)
    it(`gives axe nothing serious to find, ${colorScheme}`, async () => {
      await open({ colorScheme, viewport: { width: 1024, height: 700 } });
      await page.selectOption('#scent-from', 'f-stand');
      await answer('Goes 310 yd south');
      const found = await seriousFindings(page);
      await page.click('#leaf-season');
      await page.click('button:has-text("Try every wind")');
      await page.waitForSelector('table.winds');
      await page.click('.wind-case >> nth=3');
      expect([...found, ...(await seriousFindings(page))]).toEqual([]);
    });
});
