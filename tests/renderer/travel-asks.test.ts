import type { BrowserContextOptions } from 'playwright-core';
import { expect, it } from 'vitest';
import { at } from './fake/ground.ts';
import { describeWindow, openAlone, page } from './support/alone.ts';
import { seriousFindings } from './support/axe.ts';
import { clickPlace, type FakeWindow, keptView, logOf } from './support/fake-window.ts';

/** Questions put to travel, in a real Chromium on the connection that answers from memory. */

const open = async (options: BrowserContextOptions = {}) => {
  await openAlone(options);
  await page.click('.stage:has-text("Travel")');
  await page.waitForSelector('[data-finding="neck-1"]');
  await page.waitForTimeout(300);
};
const leaf = (name: string) => page.click(`[role=tab]:has-text("${name}")`);
const log = (name: string) => logOf(page, name);
const clickAt = (place: [number, number]) => clickPlace(page, place);

describeWindow('asking travel', () => {
  it('compares before and after, says whether a barricade holds, and again when a proposal moves', async () => {
    await open();
    await leaf('What if');
    await page.click('button:has-text("Compare before and after")');
    await page.waitForSelector('.answer:has-text("Neck 1 goes from 31% to 58%")');
    const cells = await page.locator('.answer tbody tr').first().locator('th, td').allTextContents();
    expect(cells.slice(0, 3)).toEqual(['1', '31%', '▲ 58%']);
    const answer = await page.textContent('.answer');
    expect(answer).toContain('It does not hold.');
    expect(answer).toContain('The gap at its south end is 31 yd wide.');
    expect((await log('travel.whatIf'))[0]!.params).toEqual({
      trial: [],
      spot: null,
      pair: null,
      stand: null,
      goals: null,
    });
    // The change is on the map, passage as proposed at hand.
    expect(await page.isChecked('.layer:has-text("Change of passage") input')).toBe(true);
    expect(await page.isChecked('.layer:has-text("Passage as proposed") input')).toBe(false);
    await page.evaluate(() =>
      (
        window as never as { hollowgate: { request(name: string, params: object): Promise<object> } }
      ).hollowgate
        .request('features.remove', { id: 'f-barricade' })
        .then((summary) =>
          (window as never as FakeWindow).fake.emit({ type: 'property.changed', summary } as never),
        ),
    );
    await expect.poll(() => log('travel.whatIf')).toHaveLength(2);
  });

  it('watches a spot, within a reach in yards', async () => {
    await open();
    await leaf('What if');
    await page.fill('#spot-reach', '100');
    await page.keyboard.press('Tab');
    await page.click('button:has-text("Watch a spot")');
    await clickAt(at(160, 200));
    await page.waitForSelector('.answer:has-text("44%, 20% today")');
    const { spot } = (await log('travel.whatIf'))[0]!.params as { spot: { x: number; reach: number } };
    expect(spot.reach).toBeCloseTo(91.44, 6);
    expect(Math.abs(spot.x - at(160, 200)[0])).toBeLessThan(15);
  });

  it('proposes the next closure and takes it into the plan', async () => {
    await open();
    await leaf('What if');
    await page.selectOption('#closure-neck', 'neck-2');
    await page.click('button:has-text("Propose closures")');
    await page.waitForSelector('.closures:has-text("Closure 1: 120 yd, on your ground")');
    expect((await log('travel.closures'))[0]!.params).toEqual({
      neck: 'neck-2',
      trial: [],
      goals: null,
    });
    expect(await page.textContent('.closures')).toContain('31% to 43%');
    await page.click('button:has-text("Add to the plan")');
    await expect.poll(() => log('features.put')).toHaveLength(1);
    expect((await log('features.put'))[0]!.params).toMatchObject({
      feature: {
        kind: 'barricade',
        status: 'proposed',
        geometry: { type: 'LineString', coordinates: [at(250, 175), at(262, 190)] },
      },
    });
    await expect.poll(() => log('travel.whatIf')).toHaveLength(1);
  });

  it('asks for two goals, a pair of areas and a stand, and says what the plan does to each', async () => {
    await open();
    await leaf('What if');
    await page.click('.travel-for summary:has-text("What the plan is for")');
    await page.click('button:has-text("Gather travel past a spot")');
    await clickAt(at(160, 200));
    await page.click('button:has-text("Keep travel out")');
    await clickAt(at(120, 230));
    await page.fill('#goal-wind', '225');
    await page.keyboard.press('Tab');
    await page.selectOption('#pair-from', 'North bedding');
    await page.selectOption('#asked-stand', 'Saddle stand');
    // Nothing was compared yet, so nothing is asked before the person says so.
    expect(await log('travel.whatIf')).toEqual([]);
    await page.click('button:has-text("Compare before and after")');
    await page.waitForSelector('.answer:has-text("Past the spot to gather at goes 40%, 20% today.")');
    const answer = await page.textContent('.answer');
    expect(answer).toContain('From North bedding 80% pass neck 1, 50% today.');
    expect(answer).toContain('Within 30 yd of the stand passes 30%, 10% today.');
    const params = (await log('travel.whatIf'))[0]!.params as {
      pair: object;
      stand: object;
      goals: { gather: { x: number; reach: number }; keepOut: { windFrom: number } };
    };
    expect(params.pair).toEqual({ from: 1, to: 'all' });
    expect(params.stand).toEqual({ feature: 'f-stand' });
    expect(params.goals.keepOut.windFrom).toBe(225);
    expect(Math.abs(params.goals.gather.x - at(160, 200)[0])).toBeLessThan(15);
    await page.click('button:has-text("Take off the spot to keep out of")');
    await expect.poll(() => log('travel.whatIf')).toHaveLength(2);
  });

  it('keeps plans side by side and compares two with a divider that moves', async () => {
    await open();
    await leaf('Plans');
    await page.waitForSelector('.plan:has-text("proposes 1 barricade")');
    expect(await page.isDisabled('.plan button:has-text("Take away")')).toBe(true);
    await page.click('button:has-text("Copy Plan")');
    await page.waitForSelector('.plan:has-text("Plan 2")');
    expect((await log('plan.createVariant'))[0]!.params).toEqual({ name: 'Plan 2', copyOf: 'plan' });
    expect(await page.isChecked('.plan:has-text("Plan 2") input[type=radio]')).toBe(true);
    await page.click('button:has-text("Compare the plans")');
    await page.waitForSelector('.answer:has-text("58% of all travel under Plan")');
    const cells = await page.locator('.answer tbody tr').first().locator('th, td').allTextContents();
    expect(cells).toEqual(['Neck 1', '31%', '▲ 58%', '31%']);
    expect((await log('travel.compare'))[0]!.params).toMatchObject({ first: 'plan', second: 'variant-1' });
    /** Colour of the map at a share of its width: the first plan's picture is red, the second's blue. */
    const sideAt = (share: number) =>
      page.evaluate((across) => {
        const canvas = document.querySelector<HTMLCanvasElement>('.map canvas')!;
        const pen = canvas.getContext('2d')!;
        const [r, , b] = pen.getImageData(canvas.width * across, canvas.height * 0.62, 1, 1).data;
        return r! > b! ? 'first' : 'second';
      }, share);
    await expect.poll(async () => [await sideAt(0.42), await sideAt(0.58)]).toEqual(['first', 'second']);
    const slider = page.getByRole('slider', { name: /Divider between Plan on the left/ });
    await slider.focus();
    for (let n = 0; n < 8; n++) await page.keyboard.press('ArrowLeft');
    expect(await slider.getAttribute('aria-valuenow')).toBe('34');
    await expect.poll(() => sideAt(0.42)).toBe('second');
    // By pointer as well.
    const grip = (await slider.boundingBox())!;
    await page.mouse.move(grip.x + 14, grip.y + grip.height / 2);
    await page.mouse.down();
    await page.mouse.move(grip.x + 214, grip.y + grip.height / 2, { steps: 4 });
    await page.mouse.up();
    await expect.poll(() => sideAt(0.42)).toBe('first');
    expect(await seriousFindings(page)).toEqual([]);
    await page.selectOption('#compare-shows', 'difference');
    await expect.poll(() => slider.count()).toBe(0);
  });

  it('tells why a spot is dear, the dearest part first, and what passes it', async () => {
    await open();
    await leaf('Why here');
    await page.click('button:has-text("Choose a spot on the map")');
    await page.focus('.map');
    await page.keyboard.press('Space');
    await page.waitForSelector('.answer:has-text("4.2 yards of easy ground")');
    expect(await page.locator('.answer .pairs li').allTextContents()).toEqual([
      'Open ground+2.6',
      'Climbing+0.6',
    ]);
    await page.keyboard.press('Escape');
    await page.click('.answer button:has-text("Neck 2")');
    await page.waitForSelector('.detail-head:has-text("Inside corner and draw")');
  });

  it('takes a neck apart where it is told of', async () => {
    await open();
    await leaf('Necks');
    await page.click('[data-finding="neck-1"]');
    await page.click('button:has-text("Take the spot apart")');
    await page.waitForSelector('.answer:has-text("4.2 yards of easy ground")');
    expect(await page.locator('.answer .pairs li').first().textContent()).toBe('Open ground+2.6');
  });

  it('runs the assumptions through with progress, and stops when told', async () => {
    await open();
    await leaf('How sure');
    await page.fill('#runs', '60');
    await page.click('button:has-text("Try the necks")');
    await page.waitForSelector('.page:has-text("1 neck of 5 is firm over 60 runs.")');
    expect(await page.textContent('.page')).toContain('31% (22% to 41%)');
    await page.evaluate(() => (window as never as FakeWindow).fake.hold('travel.uncertainty'));
    await page.click('button:has-text("Try the necks")');
    await page.getByRole('progressbar', { name: 'Running the assumptions through' }).waitFor();
    await page.click('.asking button:has-text("Stop")');
    expect((await log('ask.cancel')).map(({ params }) => params)).toEqual([{ ask: 'travel.uncertainty' }]);
    expect(await page.locator('.trouble').count()).toBe(0);
    await page.click('button:has-text("Compare with sightings")');
    await page.waitForSelector('.answer:has-text("No sightings were imported.")');
  });

  it('offers weights fitted to sightings, and takes them over only when told', async () => {
    await open();
    await leaf('How sure');
    await page.click('button:has-text("Fit the weights to the sightings")');
    await page.waitForSelector('.answer:has-text("1.31 times as likely")');
    const cells = await page.locator('.fit-scores tbody tr').first().locator('th, td').allTextContents();
    expect(cells).toEqual(['Area under the curve', '0.50', '0.81', '0.88']);
    expect(await page.textContent('.fit-changes')).toContain('▲ 14');
    expect(await log('travel.takeFit')).toHaveLength(0);
    expect(await log('scout.start')).toHaveLength(0);
    await page.click('button:has-text("Use these weights")');
    await expect.poll(() => log('travel.takeFit')).toHaveLength(1);
    await expect.poll(() => log('scout.start')).toHaveLength(1);
  });

  it('changes whose travel it is and scouts again', async () => {
    await open();
    await page.waitForSelector('.travel-for:has-text("Rut, cruising by day, no particular day")');
    await page.click('.travel-for summary');
    await page.selectOption('#travel-set', 'does');
    await expect
      .poll(async () => (await log('settings.change')).map(({ params }) => params))
      .toEqual([{ patch: { travel: { set: 'does' } } }]);
    await page.waitForSelector('#travel-set-holds:has-text("They hug cover.")');
    await expect.poll(() => log('scout.start')).toHaveLength(1);
  });

  it('sets the day of the year and the years on, and says in one line what travel is for', async () => {
    await open();
    await page.click('.travel-for summary');
    await page.selectOption('#travel-day-how', 'day');
    // The day offered first is the machine's today.
    const today = await page.evaluate(() => {
      const now = new Date();
      return [now.getMonth() + 1, now.getDate()].map((n) => String(n).padStart(2, '0')).join('-');
    });
    const patches = async () => (await log('settings.change')).map(({ params }) => params);
    await expect.poll(patches).toEqual([{ patch: { travel: { date: today } } }]);
    await page.selectOption('#travel-month', 'February');
    await page.fill('#travel-day', '29');
    await page.keyboard.press('Tab');
    await page.waitForSelector('.travel-for-words:has-text("on 29 February, as things stand today")');
    // No month has a 31st of February: the field keeps what it had.
    await page.fill('#travel-day', '31');
    await page.keyboard.press('Tab');
    expect(await page.inputValue('#travel-day')).toBe('29');
    await page.selectOption('#travel-year', '3');
    await page.waitForSelector('.travel-for-words:has-text("29 February, 3 years on")');
    await page.selectOption('#travel-day-how', 'none');
    await page.waitForSelector('.travel-for-words:has-text("no particular day, 3 years on")');
    expect((await patches()).slice(-3)).toEqual([
      { patch: { travel: { date: '02-29' } } },
      { patch: { travel: { year: 3 } } },
      { patch: { travel: { date: null } } },
    ]);
  });

  it('hides the necks for a blind trial, and reveals them with how likely the finds are by luck', async () => {
    await open();
    await leaf('How sure');
    await page.waitForSelector('.section:has-text("You have had the necks on the screen")');
    await page.click('button:has-text("Hide the necks and mark crossings")');
    // Nothing that tells of the necks is left: neither in the page nor among the layers, on any stage.
    const layers = () => page.locator('.layers .layer').allTextContents();
    const tells = /Necks|Corridors|Crossings|Junctions|Passage|Routes/;
    expect((await layers()).filter((name) => tells.test(name))).toEqual([]);
    expect(await page.textContent('.page')).not.toMatch(/Neck 1|squeezes/);
    await page.click('.stage:has-text("Report")');
    await page.waitForSelector('.page:has-text("A blind trial is under way.")');
    expect((await layers()).filter((name) => tells.test(name))).toEqual([]);
    await page.click('.stage:has-text("Travel")');
    expect(await page.isDisabled('button:has-text("Reveal the necks")')).toBe(true);
    await page.click('button:has-text("Go on marking")');
    await clickAt(at(220, 148));
    // Marks set in a hurry do not zoom the map.
    const { resolution } = await keptView(page);
    await clickAt(at(300, 230));
    await clickAt(at(300, 230));
    await page.waitForTimeout(400);
    expect((await keptView(page)).resolution).toBe(resolution);
    for (const which of [3, 2]) await page.click(`.marks li:nth-child(${which}) button`);
    await page.focus('.map');
    await page.keyboard.press('Space');
    await expect.poll(() => page.locator('.marks li').count()).toBe(2);
    await clickAt(at(90, 200));
    await page.click('.marks li:nth-child(2) button');
    await page.click('button:has-text("Reveal the necks")');
    await page.waitForSelector('[role=tab]:has-text("Necks 5")');
    const asked = (await log('travel.blindTrial'))[0]!.params as { marks: number[][]; reach: number };
    expect(asked.reach).toBeCloseTo(45.72, 6);
    expect(asked.marks).toHaveLength(2);
    expect(Math.abs(asked.marks[0]![0]! - at(220, 148)[0])).toBeLessThan(15);
    expect((await layers()).filter((name) => tells.test(name)).length).toBeGreaterThan(3);
    await leaf('How sure');
    const found = (await page.textContent('section[aria-label="What the trial found"]'))!;
    expect(found).toContain('so many or more by luck: 8%');
    expect(found).toContain('this was not a blind trial');
    expect(found).toContain('Neck 1, 13 yd off');
    expect(found).toContain('no neck within 50 yd');
  });

  it('lists junctions and draws the strands of one', async () => {
    await open();
    await leaf('Junctions');
    await page.waitForSelector('.finding:has-text("52% of all travel passes within 66 yd of one spot")');
    await page.click('[data-finding="j1"]');
    await page.waitForSelector('.detail-head:has-text("3 strands meet")');
    // The one chosen is on the map, though the layer starts hidden.
    expect(await page.isChecked('.layer:has-text("Junctions") input')).toBe(true);
    expect(await page.getAttribute('.arms', 'aria-label')).toBe(
      'Strands: 30% to the north, 40% to the southeast and 22% to the west.',
    );
  });

  for (const colorScheme of ['light', 'dark'] as const)
    it(`gives axe nothing serious to find, ${colorScheme}, at 1024 by 700`, async () => {
      await open({ colorScheme, viewport: { width: 1024, height: 700 } });
      const found: string[] = [];
      const check = async (where: string) => {
        for (const line of await seriousFindings(page)) found.push(`${where}: ${line}`);
      };
      await page.click('.travel-for summary');
      await page.selectOption('#travel-day-how', 'day');
      await page.waitForSelector('#travel-day');
      await check('travel for');
      await page.click('.travel-for summary');
      await leaf('What if');
      await page.click('button:has-text("Compare before and after")');
      await page.waitForSelector('.answer table');
      await page.click('button:has-text("Propose closures")');
      await page.waitForSelector('.closures li');
      await check('what if');
      await leaf('Why here');
      await page.click('button:has-text("Choose a spot on the map")');
      await clickAt(at(200, 220));
      await page.waitForSelector('.answer .pairs');
      await check('why');
      await leaf('How sure');
      await page.click('button:has-text("Try the necks")');
      await page.waitForSelector('.answer .para');
      await check('how sure');
      await page.click('button:has-text("Hide the necks and mark crossings")');
      await clickAt(at(200, 220));
      await page.waitForSelector('.marks li');
      await check('blind trial');
      await page.click('button:has-text("Give the trial up")');
      await leaf('Junctions');
      await page.click('[data-finding="j1"]');
      await check('junction');
      expect(found).toEqual([]);
    });
});
