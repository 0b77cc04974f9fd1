import type { BrowserContextOptions } from 'playwright-core';
import { expect, it } from 'vitest';
import { at } from './fake/ground.ts';
import { describeWindow, openAlone, page } from './support/alone.ts';
import { seriousFindings } from './support/axe.ts';
import { type FakeWindow, logOf, pixelOf } from './support/fake-window.ts';

/** When stands are sat, in a real Chromium on a connection that answers from memory. */

const open = async (leaf: string, options: BrowserContextOptions = {}) => {
  await openAlone(options);
  await page.click('.stage:has-text("Stands")');
  await page.click(`#leaf-${leaf}`);
};
const asked = async (name: string) => (await logOf(page, name)).map(({ params }) => params as never);
const cell = (label: string) => page.locator(`.wind-case[aria-label^="${label}"]`);

describeWindow('when stands are sat', () => {
  it('judges a stand: shares that add up, both ways where the direction is unknown, and what is not known', async () => {
    await open('verdict');
    await page.click('button:has-text("Judge this stand")');
    await page.waitForSelector('table.winds');
    expect((await asked('stands.verdict'))[0]).toMatchObject({ stand: 'f-stand', at: null, date: null });
    const words = (await page.textContent('section[aria-label="Verdict"]'))!;
    expect(words).toContain('13 h (8.0 h to 18 h)');
    expect(words).toContain('With a clean way in and out6.5 h');
    expect(words).toContain('No clean way out after dark on foot, whatever the wind.');
    expect(words).toContain('20 h a week: scent drifts over travel elsewhere');
    // No travel expected at midday is no share of nothing.
    expect(await page.textContent('tr:has(th:text-is("midday"))')).toBe(
      'midday24 hnoneno wind for itno travel expected',
    );
    expect(await cell('W, morning').getAttribute('aria-label')).toBe('W, morning: can be sat, 30% clean');
    expect(await cell('S, morning').getAttribute('aria-label')).toContain('in doubt, 10% clean');
    expect(await cell('N, morning').textContent()).toBe('● 0%');
    expect(await cell('N, midday').textContent()).toBe('● ?');
    // Nothing lawful before sunrise without the user's rule.
    expect(await page.locator('th:text-is("before sunrise")[scope="col"]').count()).toBe(0);
    await cell('W, morning').click();
    const told = (await page.textContent('.told'))!;
    const shares = ['Clean, with its band', 'Meets the scent first', 'Never in reach and view'].map((label) =>
      Number(new RegExp(`${label}(\\d+)%`).exec(told)![1]),
    );
    expect(shares.reduce((a, b) => a + b)).toBe(100);
    expect(told).toContain('20% of it comes clean if deer walk from The pines to The hay, 70% the other way');
    await page.fill('#verdict-day', '2026-11-05');
    await page.waitForSelector('.section:has-text("It rests 4 more days.")');
    expect((await asked('stands.verdict')).at(-1)).toMatchObject({ date: '2026-11-05' });
  });

  it('lays the season out by dates, says what may not be sat together, and forgets it when a rule changes', async () => {
    await open('season', { viewport: { width: 1024, height: 700 } });
    await page.click('button:has-text("Make the season sheet")');
    await page.waitForSelector('table.winds');
    expect(await cell('W, morning').textContent()).toBe('Saddle 30%');
    expect(await cell('S, morning').getAttribute('aria-label')).toBe('S, morning: stay home');
    await page.selectOption('#sheet-window', '1');
    expect(await cell('S, morning').textContent()).toBe('Saddle 30%?');
    await cell('S, morning').click();
    expect(await page.textContent('.told')).toContain('Seated by 06:29, until 10:27 UTC-5');
    expect(await page.textContent('.told')).toContain('Leave then');
    // 457.2 m are 500 yd, 228.6 m are 250.
    expect(await page.textContent('.told')).toContain(
      'In from the yard: 16 min, 500 yd, 250 yd of it driven.',
    );
    expect(await page.textContent('section[aria-label="Season sheet"]')).toContain(
      'Saddle stand and Bench stand: in the morning with N, calm air.',
    );
    expect(await page.textContent('.lines.caution')).toContain('no shot is safe');
    const found = await seriousFindings(page);
    await page.click('.hunt-rules summary');
    await page.fill('#light-before', '30');
    await page.press('#light-before', 'Enter');
    await expect
      .poll(async () => (await asked('settings.change')).at(-1))
      .toEqual({ patch: { hunt: { lightBefore: 30 } } });
    await page.waitForSelector('table.winds', { state: 'detached' });
    await page.fill('#light-before', '');
    await page.press('#light-before', 'Enter');
    await expect
      .poll(async () => (await asked('settings.change')).at(-1))
      .toEqual({ patch: { hunt: { lightBefore: null } } });
    expect([...found, ...(await seriousFindings(page))]).toEqual([]);
  });

  it('lays out the season by days and hours, opened by pointer and by keys, and follows the stand', async () => {
    await open('hours', { viewport: { width: 1024, height: 700 } });
    await page.fill('#hours-year', '2026');
    await page.press('#hours-year', 'Enter');
    await page.click('button:has-text("Lay out the hours")');
    await page.waitForSelector('.hours-day');
    expect(await asked('stands.hours')).toEqual([{ stand: null, year: 2026 }]);
    const panel = () => page.textContent('#leaf-body');
    expect(await panel()).toContain(
      '2 days with 5.0 h of lawful light. In about 1.5 h of it (1.0 h to 3.0 h',
    );
    expect(await page.locator('.hours-day').first().textContent()).toBe(
      'Sat 31 October 2026: 45 min of 2.5 h of light; sat: Saddle stand',
    );
    // Half an hour is drawn half as wide as a whole one, and three tenths as high.
    const drawn = async (n: number) =>
      Promise.all(['width', 'height'].map(async (of) => Number(await goods.nth(n).getAttribute(of))));
    const goods = page.locator('.hours-day').first().locator('.hour-good');
    const [[half, high], [hour]] = (await Promise.all([drawn(0), drawn(1)])) as [number[], number[]];
    expect(half! / hour!).toBeCloseTo(0.5, 9);
    expect(high! / 20).toBeCloseTo(0.3, 9);
    await page.locator('.hours-day').first().click();
    const told = (await page.textContent('.told'))!;
    expect(told).toContain('Saturday 31 October');
    expect(told).toContain('Morning, 07:30 to 09:00');
    expect(told).toContain('A good wind in 30% (20% to 60%) of the record’s 412 hours of October');
    expect(told).toContain('Saddle stand 30%: W, calm air');
    expect(told).toContain(
      'No wind is good. Against the commonest, S, at Saddle stand: The scent reaches bedding (The pines).',
    );
    const found = await seriousFindings(page);
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    expect(await page.textContent('.told')).toContain('Sunday 1 November');
    await page.selectOption('#hours-stand', 'f-stand');
    await page.waitForSelector('.told:has-text("Saddle stand rests 4 more days.")');
    expect((await asked('stands.hours')).at(-1)).toEqual({ stand: 'f-stand', year: 2026 });
    expect(await page.textContent('.hours-day[aria-expanded="true"]')).toContain('rests');
    expect([...found, ...(await seriousFindings(page))]).toEqual([]);
  });

  it('tells where to sit on a day with a typed-in wind', async () => {
    await open('day');
    await page.fill('#forecast-day', '2026-11-05');
    await page.selectOption('#forecast-sector', '292.5');
    await page.fill('#forecast-speed', '10');
    await page.fill('#forecast-hunters', '2');
    await page.click('button:has-text("Where to sit")');
    await page.waitForSelector('.choices');
    const [params] = await asked('stands.forecast');
    expect(params).toMatchObject({ date: '2026-11-05', windFrom: 292.5, hunters: 2 });
    // 10 mph: 1 mph is 0.44704 m/s.
    expect((params as { windSpeed: number }).windSpeed).toBeCloseTo(4.4704, 4);
    const words = (await page.textContent('section[aria-label="A day with a typed-in wind"]'))!;
    expect(words).toContain('Wind WNW. Phase of the rut: cruising.');
    expect(words).toContain('Bench stand: It rests 3 more days.');
    expect(words).toContain('Stay home in the evening');
    expect(words).toContain('Out after dark to the yard: 16 min');
    expect(words).toContain('not clean. It walks through neck 1.');
    await page.selectOption('#forecast-arrive', 'vehicle');
    await expect
      .poll(async () => (await asked('settings.change')).at(-1))
      .toEqual({ patch: { hunt: { arrive: 'vehicle' } } });
    await page.waitForSelector('.choices', { state: 'detached' });
    // A rule changed while the question is under way puts it anew rather than dropping it.
    await page.evaluate(() => (window as never as FakeWindow).fake.hold('stands.forecast'));
    await page.click('button:has-text("Where to sit")');
    await expect.poll(() => asked('stands.forecast')).toHaveLength(2);
    await page.evaluate(() => (window as never as FakeWindow).fake.letGo('stands.forecast'));
    await page.selectOption('#forecast-arrive', 'foot');
    await page.waitForSelector('.choices');
    expect(await asked('stands.forecast')).toHaveLength(3);
    expect(await seriousFindings(page)).toEqual([]);
  });

  it('tries a screen, says from which season on it hides, and proposes it', async () => {
    await open('screens', { viewport: { width: 1024, height: 700 } });
    await page.selectOption('#screen-plant', 'giant miscanthus');
    await page.selectOption('#screen-opens', '180');
    await page.fill('#screen-radius', '20');
    await page.press('#screen-radius', 'Enter');
    await page.click('button:has-text("What it hides")');
    await page.waitForSelector('section[aria-label="Screen"] table');
    const params = (await asked('stands.screen'))[0] as { radius: number };
    expect(params).toMatchObject({
      shape: 'crescent',
      stand: 'f-stand',
      plant: 'giant miscanthus',
      opens: 180,
    });
    // 20 ft: 1 ft is 0.3048 m.
    expect(params.radius).toBeCloseTo(6.096, 6);
    const row = (season: string) => page.textContent(`tr:has(th:text-is("${season}"))`);
    expect(await row('1')).toBe('12.5 ft60%0%70%');
    expect(await row('2, hidden')).toBe('2, hidden6.5 ft5%0%70%');
    expect(await page.textContent('.lines.caution')).toContain('label');
    await page.click('button:has-text("Propose this screen")');
    await expect.poll(() => asked('features.put')).toHaveLength(1);
    expect((await asked('features.put'))[0]).toMatchObject({
      feature: { kind: 'screen', status: 'proposed', attributes: { species: 'giant miscanthus', rows: 3 } },
    });
    await page.waitForSelector('section[aria-label="Screen"] table', { state: 'detached' });
    await page.selectOption('#screen-shape', 'drawn');
    await page.click('button:has-text("What it hides")');
    await page.waitForSelector('section[aria-label="Screen"] table');
    expect((await asked('stands.screen')).at(-1)).toMatchObject({ shape: 'drawn', plant: null });
    expect(await seriousFindings(page)).toEqual([]);
  });

  it('logs a sit with its wind, what was seen on it and where, and holds the verdict against it', async () => {
    await open('log');
    await page.fill('#log-date', '2026-11-05');
    await page.fill('#log-from', '06:45');
    await page.fill('#log-to', '09:30');
    await page.selectOption('#log-wind', '270');
    await page.click('button:has-text("Log the sit")');
    await page.waitForSelector('.closures li:has-text("2026-11-05: Saddle stand")');
    const put = async () =>
      ((await asked('features.put')) as { feature: { id: string; kind: string; attributes: object } }[]).at(
        -1,
      )!.feature;
    const sit = await put();
    expect(sit).toMatchObject({
      kind: 'visit',
      attributes: { date: '2026-11-05', who: 'sit', stand: 'f-stand', from: 6.75, to: 9.5, windFrom: 270 },
    });
    expect(await page.textContent('.closures')).toContain('No deer seen.');
    await page.click('button:has-text("Add what was seen")');
    await page.selectOption('#seen-what', 'doe');
    await page.fill('#seen-count', '3');
    await page.press('#seen-count', 'Tab');
    await page.selectOption('#seen-came', '45');
    await page.selectOption('#seen-outcome', 'caught my scent');
    const found = await seriousFindings(page);
    await page.click('button:has-text("Click where")');
    const spot = await pixelOf(page, at(230, 160));
    await page.mouse.click(spot.x, spot.y);
    await page.waitForSelector('.closures li:has-text("3 × doe, from the NE, caught my scent")');
    const seen = (await put()) as unknown as {
      kind: string;
      attributes: object;
      geometry: { coordinates: [number, number] };
    };
    expect(seen).toMatchObject({ kind: 'observation', attributes: { sit: sit.id, count: 3, came: 45 } });
    expect(Math.abs(seen.geometry.coordinates[0] - at(230, 160)[0])).toBeLessThan(25);
    await page.click('button:has-text("Hold the verdicts against the log")');
    await page.waitForSelector('.answer:has-text("Too few to say: 2.")');
    // Nothing the ground rests on has changed.
    expect(await page.locator('text=The ground has changed').count()).toBe(0);
    // An undone entry is gone, and so is what was said of it.
    await page.keyboard.press('Escape');
    await page.click('button[title^="Undo"]');
    await page.waitForSelector('.closures li:has-text("No deer seen.")');
    await page.waitForSelector('.answer:has-text("Too few to say: 2.")', { state: 'detached' });
    expect([...found, ...(await seriousFindings(page))]).toEqual([]);
  });
});
