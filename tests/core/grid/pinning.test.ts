import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { fitPins, type Pin, type Placing, placeOf } from '../../../core/grid/pinning.ts';
import { outside } from '../../outside.ts';

const { cases } = JSON.parse(
  readFileSync(new URL('../../reference/fixtures/grid/pins.json', import.meta.url), 'utf8'),
) as { cases: { pins: Pin[]; placing: Placing; misses: number[]; similarRms: number; gdal?: Placing }[] };

const CORNERS: [number, number][] = [
  [0, 0],
  [6000, 0],
  [0, 4000],
  [6000, 4000],
];

it('lays a picture where NumPy’s least squares and GDAL lay it, and misses the pins by as much', () => {
  const about = { room: 'grid', unit: 'm' } as const;
  const numpy = outside({
    ...about,
    method: 'Picture pinned to the map',
    source: 'NumPy lstsq',
    allowed: 1e-5,
  });
  const gdal = outside({
    ...about,
    method: 'Picture pinned to the map by three pins and more',
    source: 'GDAL GCPsToGeoTransform',
    allowed: 1e-4,
  });
  for (const { pins, placing, misses, similarRms, gdal: other } of cases) {
    const fit = fitPins(pins)!;
    for (const corner of CORNERS)
      placeOf(fit.placing, corner).forEach((value, k) => {
        numpy.compare(value, placeOf(placing, corner)[k]!);
        if (other) gdal.compare(value, placeOf(other, corner)[k]!);
      });
    if (pins.length > 3) {
      for (const [k, miss] of misses.entries()) numpy.compare(fit.misses![k]!, miss);
      numpy.compare(fit.rms!, Math.hypot(...misses) / Math.sqrt(misses.length));
    }
    if (pins.length > 2) numpy.compare(fit.similarRms!, similarRms);
  }
  numpy.done();
  gdal.done();
});

it('knows no error where the pins fit exactly, and says what a plain turn would miss', () => {
  const [two, three] = [cases[0]!.pins, cases[1]!.pins];
  expect(fitPins(two)).toMatchObject({ kind: 'similar', misses: null, rms: null, similarRms: null });
  const fit = fitPins(three)!;
  expect(fit).toMatchObject({ kind: 'affine', misses: null, rms: null });
  expect(fit.similarRms).toBeGreaterThan(0);
});

it('tells scale and turn, and keeps a picture from being mirrored by two pins', () => {
  // Half a metre a pixel, its top turned a quarter clockwise: to the east.
  const pins: Pin[] = [
    { at: [0, 0], to: [500, 1000] },
    { at: [200, 0], to: [500, 900] },
  ];
  const fit = fitPins(pins)!;
  expect(fit.pixel).toBeCloseTo(0.5, 12);
  expect(fit.turned).toBeCloseTo(90, 9);
  // Down the picture is to the west.
  expect(placeOf(fit.placing, [0, 100])).toEqual([450, 1000]);
});

it('takes pins in a line as turned and scaled only, and nothing from pins on one spot', () => {
  const line = [0, 100, 250, 400].map(
    (k): Pin => ({ at: [k, k / 2], to: [100 + k / 2 + (k === 250 ? 1 : 0), 900 - k / 4] }),
  );
  expect(fitPins(line)).toMatchObject({ kind: 'similar', inLine: true });
  expect(fitPins(line)!.rms).toBeGreaterThan(0.1);
  const spot = line.map(({ to }): Pin => ({ at: [5, 5], to }));
  const heap = line.map(({ at }): Pin => ({ at, to: [5, 5] }));
  for (const pins of [[], line.slice(0, 1), spot, heap]) expect(fitPins(pins)).toBeNull();
});
