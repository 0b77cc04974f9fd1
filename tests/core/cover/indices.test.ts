import { expect, test } from 'vitest';
import { imageryIndices } from '../../../core/cover/indices.ts';
import type { Imagery } from '../../../core/cover/types.ts';
import { outside } from '../../outside.ts';
import { random, testFrame } from './scene.ts';

const photo = (pixels: number[][], valid?: number[]): Imagery => ({
  frame: testFrame(pixels.length, 1),
  bands: pixels[0]!.map((_, k) => Uint8Array.from(pixels, (pixel) => pixel[k]!)),
  valid: Uint8Array.from(valid ?? pixels.map(() => 1)),
});

test('published end points: NDVI (Rouse 1974), NDWI (McFeeters 1996), excess green (Woebbecke 1995)', () => {
  const { ndvi, ndwi, excessGreen, brightness } = imageryIndices(
    photo([
      [0, 0, 0, 200],
      [200, 0, 0, 0],
      [0, 200, 0, 0],
      [90, 90, 90, 90],
      [50, 100, 50, 150],
    ]),
  );
  const check = outside({
    room: 'cover',
    method: 'NDVI, NDWI and excess green',
    source: 'Rouse 1974; McFeeters 1996; Woebbecke 1995: end points and by hand',
    unit: 'index',
    allowed: 1e-6,
  });
  for (const [found, wanted] of [
    [ndvi![0], 1],
    [ndvi![1], -1],
    [ndwi![2], 1],
    [excessGreen[2], 2],
    [excessGreen[1], -1],
    [ndvi![3], 0],
    [ndwi![3], 0],
    [excessGreen[3], 0],
    [ndvi![4], 0.5],
    [ndwi![4], -0.2],
    [excessGreen[4], 0.5],
  ] as const)
    check.compare(found!, wanted);
  check.done();
  expect(brightness[4]).toBeCloseTo(200 / 3, 5);
});

test('identities: indices do not change with the strength of light, and swapping bands turns NDVI over', () => {
  const next = random(3);
  const pixels = Array.from({ length: 200 }, () => [0, 0, 0, 0].map(() => 1 + Math.floor(next() * 120)));
  const one = imageryIndices(photo(pixels));
  const twice = imageryIndices(photo(pixels.map((pixel) => pixel.map((count) => 2 * count))));
  const swapped = imageryIndices(photo(pixels.map(([r, g, b, n]) => [n!, g!, b!, r!])));
  for (let i = 0; i < pixels.length; i++) {
    expect(twice.ndvi![i]).toBeCloseTo(one.ndvi![i]!, 6);
    expect(twice.ndwi![i]).toBeCloseTo(one.ndwi![i]!, 6);
    expect(twice.excessGreen[i]).toBeCloseTo(one.excessGreen[i]!, 5);
    expect(swapped.ndvi![i]).toBeCloseTo(-one.ndvi![i]!, 6);
  }
});

test('no data and black are unknown, and three bands have no infrared index', () => {
  const { ndvi, brightness, excessGreen } = imageryIndices(
    photo(
      [
        [1, 2, 3, 4],
        [0, 0, 0, 0],
      ],
      [0, 1],
    ),
  );
  expect([ndvi![0], brightness[0], ndvi![1], excessGreen[1]]).toEqual([
    Number.NaN,
    Number.NaN,
    Number.NaN,
    Number.NaN,
  ]);
  expect(imageryIndices(photo([[1, 2, 3]])).ndvi).toBeNull();
});
