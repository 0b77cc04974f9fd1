import { expect, it } from 'vitest';
import { describeWindow, openAlone, page } from './support/alone.ts';
import { seriousFindings } from './support/axe.ts';

/** Views of the map kept for the client, in a real Chromium on the connection that answers from memory. */

const stage = (name: string) => page.click(`.stage:has-text("${name}")`);
const keep = () => page.click('button:has-text("Keep this view")');
const views = () => page.locator('.client-views li').count();

describeWindow('views for the client', () => {
  it('keeps what the map shows, with a caption, and shows one after another with nothing else', async () => {
    await openAlone();
    await stage('Travel');
    await page.waitForSelector('[data-finding="neck-1"]');
    // What shows goes with the view.
    await page.uncheck('label:has-text("Contours") input');
    await keep();
    await page.waitForSelector('.notice:has-text("view 1")');
    await page.check('label:has-text("Contours") input');
    await stage('Air');
    await keep();
    await page.waitForSelector('.notice:has-text("view 2")');
    await stage('Report');
    await expect.poll(views).toBe(2);
    await page.fill('.client-views li:nth-child(1) input', 'Here they must squeeze.');
    await page.keyboard.press('Enter');
    expect(await seriousFindings(page)).toEqual([]);

    await page.click('button:has-text("Show them to the client")');
    await page.waitForSelector('.client-caption:has-text("Here they must squeeze.")');
    expect(await page.isVisible('.masthead')).toBe(false);
    expect(await page.isVisible('.page')).toBe(false);
    expect(await page.isVisible('.map')).toBe(true);
    await page.keyboard.press('ArrowRight');
    await page.waitForSelector('.client-place:has-text("2 of 2")');
    expect(await page.isDisabled('.client-show button:has-text("Next")')).toBe(true);
    expect(await seriousFindings(page)).toEqual([]);
    await page.keyboard.press('Escape');

    // Back where one was, with what showed while working.
    await page.waitForSelector('.stage[aria-current]:has-text("Report")');
    await stage('Travel');
    expect(await page.isChecked('label:has-text("Contours") input')).toBe(true);
  });

  it('puts views in another order, and takes one out', async () => {
    await openAlone();
    for (const name of ['Travel', 'Air']) {
      await stage(name);
      await keep();
    }
    await stage('Report');
    await expect.poll(views).toBe(2);
    await page.click('.client-views li:nth-child(2) button:has-text("Earlier")');
    await page.waitForSelector('.client-views li:nth-child(1):has-text("Air")');
    await page.click('.client-views li:nth-child(1) button:has-text("Remove")');
    await expect.poll(views).toBe(1);
  });
});
