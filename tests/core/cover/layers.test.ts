import { expect, test } from 'vitest';
import { NLCD } from '../../../core/cover/landcover.ts';
import { coverLayers } from '../../../core/cover/layers.ts';
import { COVER } from '../../../core/cover/types.ts';
import type { Feature, FeatureKind } from '../../../core/features/feature.ts';
import { testFrame } from './scene.ts';

const frame = testFrame(40, 40);
const square = (x0: number, y0: number, x1: number, y1: number): Feature['geometry'] => {
  const at = (c: number, r: number) => [frame.west + c * frame.cellSize, frame.north - r * frame.cellSize];
  return { type: 'Polygon', coordinates: [[at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1), at(x0, y0)]] };
};
const feature = (kind: FeatureKind, geometry: Feature['geometry'], more: Partial<Feature> = {}): Feature => ({
  id: kind,
  kind,
  status: 'existing',
  name: null,
  geometry,
  attributes: {},
  source: 'drawn',
  ...more,
});
const land = (fill: (i: number) => number) => ({
  frame,
  cells: Uint8Array.from({ length: 1600 }, (_, i) => fill(i)),
});

test('the NLCD legend, code by code', () => {
  // Public legend of the National Land Cover Database: water, developed, barren, forest, shrub, herbaceous,
  // planted, wetlands. Names abridged.
  const legend: [number, string, keyof typeof COVER][] = [
    [11, 'open water', 'water'],
    [21, 'developed, open space', 'open'],
    [22, 'developed, low', 'built'],
    [23, 'developed, medium', 'built'],
    [24, 'developed, high', 'built'],
    [31, 'barren', 'open'],
    [41, 'deciduous forest', 'deciduous'],
    [42, 'evergreen forest', 'evergreen'],
    [43, 'mixed forest', 'deciduous'],
    [52, 'shrub or scrub', 'brush'],
    [71, 'grassland', 'open'],
    [81, 'pasture or hay', 'open'],
    [82, 'cultivated crops', 'open'],
    [90, 'woody wetland', 'wet'],
    [95, 'emergent wetland', 'wet'],
  ];
  for (const [code, label, word] of legend) {
    expect(NLCD[code]!.label).toBe(label);
    expect(NLCD[code]!.cover).toBe(COVER[word]);
    const { cover, source } = coverLayers(
      frame,
      null,
      land(() => code),
      [],
    );
    expect(source).toBe('land cover');
    expect(cover.cells.every((cell) => cell === COVER[word])).toBe(true);
  }
});

test('codes outside the legend are named and unknown', () => {
  const { cover, doubts } = coverLayers(
    frame,
    null,
    land((i) => (i < 800 ? 41 : 66)),
    [],
  );
  expect(cover.cells[900]).toBe(0);
  expect(doubts.join(' ')).toMatch(/not in the public legend \(66\)/);
});

test('with neither photo nor land cover everything is unknown and travel is said to rest on terrain alone', () => {
  const { cover, canopy, screening, footing, source, doubts } = coverLayers(frame, null, null, []);
  expect(source).toBe('terrain alone');
  expect(cover.cells.every((code) => code === 0)).toBe(true);
  for (const grid of [canopy, screening, footing]) expect(grid.cells.every(Number.isNaN)).toBe(true);
  expect(doubts.join(' ')).toMatch(/travel rests on terrain alone/);
});

test('drawn features count before the raster, proposed ones not at all', () => {
  const features = [
    feature('crop', square(0, 0, 10, 10)),
    feature('pond', square(5, 5, 12, 12)),
    feature('building', square(20, 20, 24, 24)),
    feature('bedding', square(30, 0, 40, 10), { attributes: { screening: 0.8 } }),
    feature('crop', square(0, 30, 10, 40), { status: 'proposed' }),
  ];
  const { cover, screening, footing } = coverLayers(
    frame,
    null,
    land((i) => (i % 40 < 30 ? 41 : 71)),
    features,
  );
  const at = (x: number, y: number) => y * 40 + x;
  expect(cover.cells[at(2, 2)]).toBe(COVER.open);
  expect([screening.cells[at(2, 2)], footing.cells[at(2, 2)]]).toEqual([0, 1]);
  expect(cover.cells[at(8, 8)]).toBe(COVER.water);
  expect(cover.cells[at(22, 22)]).toBe(COVER.built);
  expect(footing.cells[at(22, 22)]).toBe(0);
  expect(cover.cells[at(35, 5)]).toBe(COVER.brush);
  expect(screening.cells[at(35, 5)]).toBeCloseTo(0.8, 6);
  expect(cover.cells[at(35, 15)]).toBe(COVER.open);
  expect(cover.cells[at(2, 35)]).toBe(COVER.deciduous);
});

test('a road clears what is below the canopy and keeps the canopy', () => {
  const y = frame.north - 50;
  const road = feature(
    'road',
    {
      type: 'LineString',
      coordinates: [
        [frame.west, y],
        [frame.west + 100, y],
      ],
    },
    { attributes: { class: 'county' } },
  );
  const { cover, screening } = coverLayers(
    frame,
    null,
    land(() => 41),
    [road],
  );
  expect(cover.cells.every((code) => code === COVER.deciduous)).toBe(true);
  const cleared = screening.cells.filter((value) => value === 0).length;
  // 7 m wide, 2.5 m cells, 40 columns: rows whose centre is within 3.5 m.
  expect(cleared).toBe(2 * 40);
});

test('cover as somebody saw it counts before photo, crops and ponds; a word the tool does not know changes nothing', () => {
  const features = [
    feature('pond', square(5, 5, 12, 12)),
    feature('truth', square(0, 0, 10, 10), { attributes: { cover: 'brush' } }),
    feature('truth', square(20, 20, 30, 30), { attributes: { cover: 'a jungle' } }),
    feature('truth', square(30, 30, 40, 40), { attributes: { cover: 'evergreen', screening: 0.3 } }),
  ];
  const { cover, canopy, screening } = coverLayers(
    frame,
    null,
    land(() => 41),
    features,
  );
  const at = (x: number, y: number) => y * 40 + x;
  expect([cover.cells[at(8, 8)], canopy.cells[at(8, 8)]]).toEqual([COVER.brush, 0]);
  // How well it hides is not in the word.
  expect(screening.cells[at(8, 8)]).toBeNaN();
  expect(cover.cells[at(11, 11)]).toBe(COVER.water);
  expect(cover.cells[at(25, 25)]).toBe(COVER.deciduous);
  expect(cover.cells[at(35, 35)]).toBe(COVER.evergreen);
  expect(screening.cells[at(35, 35)]).toBeCloseTo(0.3, 6);
});
