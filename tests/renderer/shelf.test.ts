import { expect, it } from 'vitest';
import { describeWindow, openAlone, page } from './support/alone.ts';
import { seriousFindings } from './support/axe.ts';
import { logOf } from './support/fake-window.ts';

/** The shelf of the start page, in a real Chromium on the connection that answers from memory. */

const names = () => page.locator('.shelf-name').allTextContents();
const more = (name: string) => page.locator('.shelf-row', { hasText: name }).locator('summary').click();

describeWindow('the shelf', () => {
  const open = async (scheme: 'light' | 'dark' = 'light') => {
    await openAlone({ colorScheme: scheme, before: 'window.fake.start({ open: false })' });
    await page.waitForSelector('.shelf-row');
  };

  it('shows the newest first without what was put away, finds by client, and opens', async () => {
    await open();
    expect(await names()).toEqual(['Place 1', 'Place 2', 'Place 3', 'Place 4']);
    await page.check('text=Show the 1 put away');
    expect(await names()).toHaveLength(5);
    await page.fill('input[type=search]', 'example');
    expect(await names()).toEqual(['Place 2']);
    await page.click('.shelf-open');
    expect(await logOf(page, 'property.open')).toMatchObject([{ params: { path: '/ground/place 2.gpkg' } }]);
  });

  it('does not open what is gone, but takes it off the shelf', async () => {
    await open();
    const gone = page.locator('.shelf-row', { hasText: 'no longer there' });
    expect(await gone.locator('.shelf-open').isDisabled()).toBe(true);
    await more('Place 4');
    await gone.getByRole('button', { name: 'Take off the shelf' }).click();
    await expect.poll(names).toEqual(['Place 1', 'Place 2', 'Place 3']);
  });

  it('keeps the client, puts away, copies without names, backs up and restores', async () => {
    await open();
    await more('Place 1');
    const row = page.locator('.shelf-row', { hasText: 'Place 1' });
    await row.getByLabel('Client').fill('Another client');
    await row.getByLabel('Client').press('Tab');
    await expect.poll(() => row.locator('summary').textContent()).toBe('Another client about Place 1');
    await row.getByRole('button', { name: 'Copy without names' }).click();
    await page.waitForSelector('text=The copy is at /ground/Nameless property.gpkg.');
    await row.getByRole('button', { name: 'Put away' }).click();
    await expect.poll(names).not.toContain('Place 1');
    await page.click('.shelf-keeping summary');
    await page.click('text=Back up the shelf');
    await page.waitForSelector('text=4 properties are backed up in /backups/Shelf.zip.');
    await page.fill('[placeholder^="Path of a back-up"]', '/backups/Shelf.zip');
    await page.click('text=Restore beside what is here');
    await page.waitForSelector('text=4 properties are back on the shelf.');
    expect(await logOf(page, 'shelf.copy')).toMatchObject([{ params: { nameless: true } }]);
  });

  it.each(['light', 'dark'] as const)('has nothing axe finds serious, in %s', async (scheme) => {
    await open(scheme);
    await more('Place 2');
    expect(await seriousFindings(page)).toEqual([]);
  });
});
