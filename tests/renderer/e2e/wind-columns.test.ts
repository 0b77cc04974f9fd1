import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Answer, Service } from '../../../electron/service/contract.ts';
import { createService } from '../../../electron/service/service.ts';
import { tiff } from '../../electron/readers/support.ts';
import { seriousFindings } from '../support/axe.ts';
import { browserPath, dropFiles } from '../support/browser.ts';
import { type Sitting, sit } from '../support/sitting.ts';

/** Tables of wind dropped on the window, on the real service: what their columns hold is asked, and asked again. */

const ELEVATION = { name: 'hill.tif', bytes: tiff(40, 40, (x, y) => 200 + x + y / 2) };
const hoursOf = (year: number, rate: number) =>
  Array.from({ length: 24 }, (_, hour) => `11/05/${year} ${hour}:00,270,${rate},fair`).join('\n');

let folder: string;
let service: Service;
let sitting: Sitting;
let page: Page;

describe.skipIf(browserPath === null)('tables of wind', { timeout: 60_000 }, () => {
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'window-'));
    const making = createService({ dataFolder: folder, host: 'loopback', version: '0' });
    sitting = await sit(making);
    service = await making;
    page = sitting.page;
    await page.waitForSelector('.start-sheet');
  });
  afterAll(async () => {
    await sitting?.end();
    await service?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  // Not asked as the window asks: a newer request of the same name would take the place of the window's own.
  const summary = async () =>
    (await (service.handle('property.summary', {}, null) as Promise<Answer<'property.summary'>>))!;
  const hours = async () => (await summary()).wind!.hours;
  const pick = (role: string, value: string) => page.selectOption(`#column-${role}`, value);

  it('asks what the columns of two files hold, says in the same form what did not work, and reads both', async () => {
    await dropFiles(page, [
      ELEVATION,
      { name: 'ridge; north.csv', text: `"when; local",from,blow,remark\n${hoursOf(2021, 10)}\n` },
      { name: 'station.csv', text: `stamp,bearing,rate,remark\n${hoursOf(2022, 20)}\n` },
    ]);
    const dialog = page.locator('dialog[open]');
    await dialog.locator('h2:has-text("ridge; north.csv")').waitFor();
    expect(await dialog.locator('th').allTextContents()).toEqual(['when; local', 'from', 'blow', 'remark']);
    expect(await dialog.locator('tbody tr').count()).toBe(4);
    expect(await dialog.locator('tbody tr').first().textContent()).toContain('11/05/2021 0:00');
    expect(await seriousFindings(page)).toEqual([]);
    // Nothing is sent while a needed list has no choice.
    await dialog.locator('button:has-text("Read the file")').click();
    expect(await dialog.locator('[role=alert]').textContent()).toBe('');
    await pick('time', 'when; local');
    await pick('direction', 'from');
    await pick('speed', 'remark');
    await pick('unit', 'mph');
    await pick('zone', '-6');
    await dialog.locator('button:has-text("Read the file")').click();
    await dialog.locator('[role=alert]:has-text("order of the dates not known")').waitFor();
    await pick('dates', 'month first');
    await dialog.locator('button:has-text("Read the file")').click();
    await dialog.locator('[role=alert]:has-text("24 with no wind speed")').waitFor();
    // What was chosen stays chosen.
    expect(await page.inputValue('#column-zone')).toBe('-6');
    expect(await page.inputValue('#column-time')).toBe('when; local');
    await pick('speed', 'blow');
    await dialog.locator('button:has-text("Read the file")').click();

    await dialog.locator('h2:has-text("station.csv")').waitFor();
    expect(await dialog.locator('[role=alert]').textContent()).toBe('');
    for (const [role, value] of Object.entries({
      time: 'stamp',
      direction: 'bearing',
      speed: 'rate',
      unit: 'mph',
      zone: '-6',
      dates: 'month first',
    }))
      await pick(role, value);
    await dialog.locator('button:has-text("Read the file")').click();
    await page.waitForSelector('.stage', { timeout: 60_000 });
    expect(await page.locator('dialog[open]').count()).toBe(0);
    expect((await summary()).importNotes.join(' ')).toContain('48 of 48 hourly records');
    expect(await hours()).toBe(48);
    expect(sitting.errors).toEqual([]);
  });

  it('adds more years to the open property, joined or in place of the record, and takes it back', async () => {
    // The form of ISD-Lite (NOAA NCEI, 2006): 4+3+3+3 then eight of width 6.
    const isd = (year: number) =>
      Array.from({ length: 48 }, (_, k) =>
        [year, 11, 6 + Math.floor(k / 24), k % 24, 50, 0, -9999, 90, 31, -9999, -9999, -9999]
          .map((value, i) => String(value).padStart(i === 0 ? 4 : i < 4 ? 3 : 6))
          .join(''),
      ).join('\n');
    const add = async (files: { name: string; text: string }[], answer: string) => {
      await dropFiles(page, files);
      await page.click('dialog button:has-text("Add to")');
      await page.click(`dialog button:has-text("${answer}")`);
    };
    await add(
      [
        { name: '724240-13807-2019', text: isd(2019) },
        { name: '724240-13807-2020', text: isd(2020) },
      ],
      'Join them',
    );
    // What was kept is shown: the page of the wind opens by itself.
    const kept = page.locator('.lines:has-text("What was kept")');
    await kept.locator('text=96 of 96 hourly records').waitFor();
    expect(await kept.textContent()).toContain('96 hours of 724240-13807 join 48 of');
    expect(await hours()).toBe(144);
    await add([{ name: '724240-13807-2018', text: isd(2018) }], 'Put the new one in its place');
    await kept.locator('li:has-text("724240-13807-2018: 48 of 48")').waitFor();
    expect(await hours()).toBe(48);
    for (const back of [144, 48]) {
      await page.click('fieldset[aria-label="Edits"] button:has-text("Undo")');
      await expect.poll(hours, { timeout: 5000 }).toBe(back);
    }
    await kept.locator('text=ridge; north.csv').first().waitFor();
    expect(sitting.errors).toEqual([]);
  });
});
