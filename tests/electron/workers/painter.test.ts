import { decode } from 'fast-png';
import { afterAll, expect, test } from 'vitest';
import type { Frame } from '../../../core/grid/frame.ts';
import { createPainter } from '../../../electron/workers/painter.ts';
import { encodePng, paintWindow } from '../../../electron/writers/paint.ts';

const frame: Frame = {
  epsg: 32616,
  west: 500_000,
  north: 4_200_000,
  cellSize: 2,
  width: 40,
  height: 30,
  longitude: -87,
  latitude: 37.9,
  convergence: 0,
};
const grid = (value: (index: number) => number) => ({
  frame,
  cells: Float32Array.from({ length: frame.width * frame.height }, (_, index) => value(index)),
});
const window = { west: frame.west, north: frame.north, resolution: 2, width: 64, height: 64 };
const painter = createPainter();
afterAll(() => painter.close());

test('the thread paints what painting here gives, and decodes to the same pixels', async () => {
  const slope = grid((index) => index % 45);
  const pixels = paintWindow('slope', { slope }, window);
  const png = await painter.paint('slope', 'slope', slope, window);
  expect(Buffer.from(png).equals(Buffer.from(encodePng(pixels, 64, 64)))).toBe(true);
  expect(Uint8Array.from(decode(png).data)).toEqual(Uint8Array.from(pixels));
});

test('tiles asked for at once come back each to its own', async () => {
  const slope = grid((index) => index % 45);
  const passage = grid((index) => (index % 100) / 100);
  const [first, second, third] = await Promise.all([
    painter.paint('slope', 'slope', slope, window),
    painter.paint('passage', 'passage', passage, window),
    painter.paint('slope', 'slope', slope, { ...window, resolution: 1 }),
  ]);
  const here = (layer: 'slope' | 'passage', resolution: number) =>
    Buffer.from(encodePng(paintWindow(layer, { slope, passage }, { ...window, resolution }), 64, 64));
  expect(here('slope', 2).equals(Buffer.from(first!))).toBe(true);
  expect(here('passage', 2).equals(Buffer.from(second!))).toBe(true);
  expect(here('slope', 1).equals(Buffer.from(third!))).toBe(true);
});

test('a layer that changed is painted as it is now', async () => {
  const before = await painter.paint(
    'slope',
    'slope',
    grid(() => 3),
    window,
  );
  const after = await painter.paint(
    'slope',
    'slope',
    grid(() => 40),
    window,
  );
  expect(Buffer.from(after).equals(Buffer.from(before))).toBe(false);
  const again = await painter.paint(
    'slope',
    'slope',
    grid(() => 3),
    window,
  );
  expect(Buffer.from(again).equals(Buffer.from(before))).toBe(true);
});

test('a tile that cannot be painted fails alone', async () => {
  await expect(
    painter.paint(
      'slope',
      'slope',
      grid(() => 3),
      { ...window, width: -1 },
    ),
  ).rejects.toThrow();
  expect(
    await painter.paint(
      'slope',
      'slope',
      grid(() => 3),
      window,
    ),
  ).toBeInstanceOf(Uint8Array);
});
