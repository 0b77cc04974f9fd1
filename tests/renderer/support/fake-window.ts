import type { Page } from 'playwright-core';
import type { control } from '../fake/connection.ts';

/** The window on the connection that answers from memory, as tests reach into it. */
export type FakeWindow = Window & { fake: typeof control };

/** Requests of a name that the window has made, in order. */
export const logOf = (page: Page, name: string) =>
  page.evaluate(
    (wanted) => (window as never as FakeWindow).fake.log.filter((entry) => entry.name === wanted),
    name,
  );

/** The view as the window keeps it for the next start: an outside look at where the map is. */
export const keptView = (page: Page) =>
  page.evaluate(
    () =>
      JSON.parse(localStorage.getItem('hollowgate.view')!) as {
        centre: [number, number];
        resolution: number;
      },
  );

/** Where a place of the fake landscape is on the screen. */
export async function pixelOf(page: Page, [x, y]: [number, number]): Promise<{ x: number; y: number }> {
  const { centre, resolution } = await keptView(page);
  const box = (await page.locator('.map').boundingBox())!;
  return {
    x: box.x + box.width / 2 + (x - centre[0]) / resolution,
    y: box.y + box.height / 2 - (y - centre[1]) / resolution,
  };
}

/** Clicks a place of the fake landscape on the map. */
export async function clickPlace(page: Page, place: [number, number]): Promise<void> {
  const { x, y } = await pixelOf(page, place);
  await page.mouse.click(x, y);
}
