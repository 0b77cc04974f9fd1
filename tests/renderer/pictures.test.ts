import { decode } from 'fast-png';
import { expect, it } from 'vitest';
import type { PinnedPicture } from '../../electron/service/contract.ts';
import { at } from './fake/ground.ts';
import { WIDE } from './fake/picture-answers.ts';
import { describeWindow, openAlone, page } from './support/alone.ts';
import { seriousFindings } from './support/axe.ts';
import { clickPlace, logOf } from './support/fake-window.ts';

/** A scan pinned over the map, in a real Chromium on the connection that answers from memory. */

const pictures = async () =>
  (
    (await logOf(page, 'settings.change')).at(-1)?.params as
      | { patch: { pictures: PinnedPicture[] } }
      | undefined
  )?.patch.pictures;
const pins = async () => (await pictures())?.[0]?.pins ?? [];

/** Clicks a pixel of the picture as a person would. */
async function clickPicture([u, v]: [number, number]): Promise<void> {
  const box = (await page.locator('.picture-frame').boundingBox())!;
  const scale = Math.min(box.width / WIDE, box.height / (WIDE / 2));
  await page.mouse.click(
    box.x + box.width / 2 + (u - WIDE / 2) * scale,
    box.y + box.height / 2 + (v - WIDE / 4) * scale,
  );
}

describeWindow('a picture over the map', () => {
  it('is pinned by clicks and by keys, says what each pin is missed by, shows, moves and goes', async () => {
    await openAlone({ viewport: { width: 1440, height: 900 } });
    await page.click('.stage:has-text("Ground")');
    await page.waitForSelector('.map canvas');
    await page.setInputFiles('.pick-picture input', {
      name: 'plat.png',
      mimeType: 'image/png',
      buffer: Buffer.from('a scan'),
    });
    await page.waitForSelector('h2:has-text("Pins of plat.png")');
    expect((await logOf(page, 'pictures.keep'))[0]!.params).toEqual({ staging: 'staging', name: 'plat.png' });
    // A pixel is 2 m; the fourth pin is set 20 m off.
    const spots: [[number, number], [number, number]][] = [
      [
        [20, 20],
        [160, 200],
      ],
      [
        [180, 20],
        [213.34, 200],
      ],
      [
        [20, 80],
        [160, 220],
      ],
      [
        [180, 80],
        [216.67, 220],
      ],
    ];
    for (const [k, [spot, place]] of spots.entries()) {
      await clickPicture(spot);
      await page.waitForSelector('.draw-bar:has-text("Click the same spot on the map.")');
      await clickPlace(page, at(...place));
      await expect.poll(async () => (await pins()).length).toBe(k + 1);
      if (k === 2) {
        await page.waitForSelector('.lines:has-text("cannot be known")');
        expect(await page.textContent('section[aria-label="Pins"]')).toContain('not known');
      }
    }
    const [first] = await pins();
    expect(Math.hypot(first!.at[0] - 20, first!.at[1] - 20)).toBeLessThan(2);
    const [x, y] = at(160, 200);
    expect(Math.hypot(first!.to[0] - x, first!.to[1] - y)).toBeLessThan(15);
    // By symmetry a quarter of the 20 m is left at each of four corners: 16 ft.
    await expect
      .poll(async () => {
        const missed = await page.locator('section[aria-label="Pins"] td.right').allTextContents();
        return missed.map((words) => Math.abs(Number(/^(\d+) ft$/.exec(words)?.[1]) - 16) <= 6);
      })
      .toEqual([true, true, true, true]);
    // The green picture is on the map, and goes with its switch.
    const green = async () => {
      const { data, channels } = decode(await page.locator('.map').screenshot());
      let count = 0;
      for (let k = 0; k < data.length; k += channels)
        if (data[k + 1]! > data[k]! + 60 && data[k + 1]! > data[k + 2]! + 60) count++;
      return count;
    };
    await expect.poll(green).toBeGreaterThan(3000);
    const found = await seriousFindings(page);
    await page.click('.layers label:has-text("plat.png") input');
    await expect.poll(green).toBeLessThan(300);
    await page.click('.layers label:has-text("plat.png") input');
    // Keys: closer, to the side, take the spot at the cross, then the place at the map's cross.
    await page.focus('.picture-frame');
    await page.keyboard.press('+');
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press(' ');
    await page.waitForSelector('.draw-bar');
    await page.focus('.map');
    await page.keyboard.press(' ');
    await expect.poll(async () => (await pins()).length).toBe(5);
    expect((await pins())[4]!.at[0]).toBeGreaterThan(WIDE / 2);
    await page.click('tr:has(th:text-is("5")) button:has-text("Remove")');
    await expect.poll(async () => (await pins()).length).toBe(4);
    // A pin is moved on the map, and on the picture.
    await page.click('tr:has(th:text-is("4")) button:has-text("map")');
    await clickPlace(page, at(213.34, 220));
    await expect.poll(async () => Math.abs((await pins())[3]!.to[0] - at(213.34, 220)[0])).toBeLessThan(12);
    await page.click('button:has-text("Whole picture")');
    await page.click('tr:has(th:text-is("1")) button:has-text("picture")');
    await clickPicture([40, 20]);
    await expect.poll(async () => Math.abs((await pins())[0]!.at[0] - 40)).toBeLessThan(2);
    expect([...found, ...(await seriousFindings(page))]).toEqual([]);
    await page.click('button:has-text("Take the picture off")');
    await expect.poll(pictures).toEqual([]);
    expect(await page.locator('h2:has-text("Pins of")').count()).toBe(0);
  });

  it('is offered where one picture is dropped, and refused in words', async () => {
    await openAlone();
    await page.waitForSelector('.map canvas');
    await page.evaluate(() => {
      (window as never as { fake: { refuse(of: object): void } }).fake.refuse({
        'pictures.keep': {
          kind: 'problem',
          message: 'scan.tif is damaged.',
          file: 'scan.tif',
          fix: 'Scan it again.',
          question: null,
        },
      });
      const files = new DataTransfer();
      files.items.add(new File(['x'], 'scan.tif', { type: 'image/tiff' }));
      window.dispatchEvent(new DragEvent('drop', { dataTransfer: files, bubbles: true, cancelable: true }));
    });
    await page.click('button:has-text("Pin it over the map")');
    await page.waitForSelector('text=scan.tif is damaged.');
    expect(await page.locator('h2:has-text("Pins of")').count()).toBe(0);
  });
});
