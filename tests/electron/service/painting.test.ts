import { expect, test } from 'vitest';
import { onHill } from './on-hill.ts';

/** Cover painted on a small property of bare terrain, and scouted. */

const { hill, ask } = onHill(60);

async function coverAt(x: number, y: number): Promise<string | undefined> {
  const rows = await ask('map.reading', { x, y });
  return rows.find(({ label }) => label === 'Cover')?.value;
}

/** Runs the scout until the cover is there. */
async function coverScouted(): Promise<void> {
  const there = new Promise<void>((resolve) => {
    const stop = hill.service.listen((event) => {
      if (event.type === 'scout.step' && event.layers.includes('cover')) {
        stop();
        resolve();
      }
    });
  });
  await ask('scout.start', {});
  await there;
  await ask('scout.cancel', {});
}

test('a stroke is one edit, becomes the cover where it went, and one undo takes it back', async () => {
  const { frame } = (await ask('property.summary', {}))!;
  const [x, y] = [
    frame.west + (frame.width * frame.cellSize) / 2,
    frame.north - (frame.height * frame.cellSize) / 2,
  ];
  const reach = 10 * frame.cellSize;
  const width = 4 * frame.cellSize;
  const path: [number, number][] = [
    [x - reach, y],
    [x + reach, y],
  ];
  const painted = await ask('cover.paint', { path, width, cover: 'evergreen' });
  expect(painted.canUndo).toBe(true);
  await coverScouted();
  expect(await coverAt(x, y)).toMatch(/evergreen/i);
  expect(await coverAt(x + reach, y + frame.cellSize)).toMatch(/evergreen/i);
  expect(await coverAt(x, y + 2 * width)).not.toMatch(/evergreen/i);
  const crossing: [number, number][] = [
    [x, y - reach],
    [x, y + reach],
  ];
  await ask('cover.paint', { path: crossing, width, cover: 'open' });
  await coverScouted();
  expect(await coverAt(x, y)).toMatch(/open/i);
  await ask('edit.undo', {});
  await coverScouted();
  expect(await coverAt(x, y)).toMatch(/evergreen/i);
  await expect(ask('cover.paint', { path: [[0, 0]], width, cover: 'open' })).rejects.toThrow(/off the map/);
}, 60_000);
