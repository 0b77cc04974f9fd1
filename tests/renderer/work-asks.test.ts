import { expect, it } from 'vitest';
import { describeWindow, openAlone, page } from './support/alone.ts';
import { seriousFindings } from './support/axe.ts';
import { logOf } from './support/fake-window.ts';

/** The Work stage in a real Chromium on the connection that answers from memory. */

const open = async () => {
  await openAlone();
  await page.click('.stage:has-text("Work")');
  await page.waitForSelector('[role=tab]:has-text("Work list 1")');
};
const leaf = (name: string) => page.click(`[role=tab]:has-text("${name}")`);

describeWindow('the work', () => {
  it('lists the job with trees, hours, money, days and cautions, and ticks it off', async () => {
    await open();
    await leaf('Work list');
    const words = await page.textContent('#leaf-body');
    expect(words).toMatch(/Trees to fell \d+/);
    expect(words).toMatch(/\d h, \$[\d,]+/);
    expect(words).toMatch(/Jan 16 to .*2027/);
    expect(words).toContain('Cautions: barricade');
    await page.fill('.job-owner', 'the saw crew');
    await page.keyboard.press('Tab');
    await expect.poll(async () => (await logOf(page, 'features.put')).length).toBe(1);
    expect((await logOf(page, 'features.put'))[0]!.params).toMatchObject({
      feature: { status: 'proposed', attributes: { owner: 'the saw crew' } },
    });
    await page.click('button:has-text("Mark as done")');
    await expect.poll(async () => (await logOf(page, 'features.put')).length).toBe(2);
    const { feature } = (await logOf(page, 'features.put'))[1]!.params as never as {
      feature: { status: string; attributes: { done: string } };
    };
    expect(feature.status).toBe('existing');
    expect(feature.attributes.done).toMatch(/^\d{4}-\d\d-\d\d$/);
    await page.waitForSelector('button:has-text("Not done after all")');
  });

  it('changes a rate in the person’s unit and the money follows', async () => {
    await open();
    await leaf('Rates');
    await page.fill('[id="rate-saw.pay"]', '90');
    await page.keyboard.press('Enter');
    await expect
      .poll(async () => (await logOf(page, 'settings.change'))[0]?.params)
      .toEqual({ patch: { plan: { rates: { 'saw.pay': 90 } } } });
    await page.waitForSelector('.assumption.changed:has-text("Set for this property")');
  });

  it('has the year in a strip with words beside it, and gains on demand', async () => {
    await open();
    await leaf('Calendar');
    await page.waitForSelector('.year tr:has-text("Birds nest"):has-text("Apr 15 to Aug 1")');
    await leaf('What first');
    await page.waitForSelector('#leaf-body:has-text("Gain not known")');
    await page.click('button:has-text("Compute what each gains")');
    await page.waitForSelector('#leaf-body:has-text("Gain 4.0 (1.5 to 6.0)")');
    await page.waitForSelector('#leaf-body:has-text("Today it comes to 3.0, with every job built to 7.0")');
    await page.waitForSelector('#leaf-body:has-text("An hour is one of lawful light.")');
  });

  it('lists the stops of the walk and writes down what was found', async () => {
    await open();
    await leaf('Walk');
    await page.waitForSelector('#leaf-body:has-text("40% of all travel hinges on it")');
    await page.selectOption('[aria-label="Found at stop 1"]', 'open');
    await page.waitForSelector('#leaf-body:has-text("A gap is put into the line here")');
    await page.fill('[aria-label="In words, stop 1"]', 'knee deep');
    await page.click('button:has-text("Write down")');
    await expect
      .poll(async () => (await logOf(page, 'walk.answer'))[0]?.params)
      .toEqual({ stop: 'walk-crossing-1', choice: 'open', text: 'knee deep' });
  });

  it('drafts a plan in three sizes and puts one into the plan in one edit', async () => {
    await open();
    await leaf('Draft plan');
    await page.click('button:has-text("Draft a plan")');
    await page.waitForSelector('#leaf-body:has-text("31.0% to 31.6%")');
    expect(await page.textContent('#leaf-body')).toContain('It takes 15 h; 10 h were left');
    expect(await seriousFindings(page)).toEqual([]);
    await page.click('.pill-row button:has-text("A winter")');
    await page.waitForSelector('#leaf-body:has-text("Worth far less without Trail through neck 1")');
    await page.click('button:has-text("Put 2 into the plan")');
    await page.waitForSelector('button:has-text("All of it is in the plan"):disabled');
    const put = await logOf(page, 'features.putAll');
    expect(put).toHaveLength(1);
    const { features } = put[0]!.params as never as { features: { id: string; status: string }[] };
    expect(features.map(({ id, status }) => `${id} ${status}`)).toEqual([
      'draft-1-trail proposed',
      'draft-1-barricade proposed',
    ]);
    await page.click('button:has-text("Undo")');
    await page.waitForSelector('button:has-text("Put 2 into the plan")');
  });

  it('sets rules from the brief, says so there, and gives back what was set by hand', async () => {
    await open();
    await leaf('Brief');
    await page.waitForSelector('#leaf-body:has-text("Nothing yet: how far they walk")');
    await page.selectOption('#brief-onFoot', 'short and level');
    await page.waitForSelector('#leaf-body:has-text("Longest way in on foot: 437 yd, from the brief.")');
    await page.fill('#brief-budget', '4000');
    await page.keyboard.press('Tab');
    await page.waitForSelector('#leaf-body:has-text("Money a year: $4,000, from the brief.")');
    await page.fill('#brief-season-from', '10-01');
    await page.fill('#brief-season-to', '12-31');
    await page.keyboard.press('Tab');
    await page.waitForSelector(
      '#leaf-body:has-text("Hours are counted over: Oct 1 to Dec 31, from the brief.")',
    );
    await leaf('What first');
    await expect.poll(() => page.inputValue('#work-budget')).toBe('4000');
    await page.fill('#work-budget', '9000');
    await page.keyboard.press('Tab');
    await leaf('Brief');
    await page.waitForSelector('#leaf-body:has-text("$9,000, set by hand; the brief asks for $4,000.")');
    await page.click('button:has-text("Take it from the brief")');
    await expect
      .poll(async () => (await logOf(page, 'brief.take'))[0]?.params)
      .toEqual({ key: 'plan.budget' });
  });

  it('is reachable for those who do not see it', async () => {
    await open();
    for (const name of ['Draft plan', 'Walk', 'Work list', 'Calendar', 'What first', 'Rates', 'Brief']) {
      await leaf(name);
      await page.waitForTimeout(150);
      expect(await seriousFindings(page), name).toEqual([]);
    }
  });
});
