import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { drawFeatures } from '../../../core/cover/drawn.ts';
import { strokeArea } from '../../../core/cover/painting.ts';
import { COVER } from '../../../core/cover/types.ts';
import { cellsInside } from '../../../core/features/cells.ts';
import type { Feature } from '../../../core/features/feature.ts';
import type { Frame, Point } from '../../../core/grid/frame.ts';
import { ringArea } from '../../../core/grid/simplify.ts';
import { outside } from '../../outside.ts';

const frame: Frame = {
  epsg: 32617,
  west: 0,
  north: 1000,
  cellSize: 2,
  width: 500,
  height: 500,
  longitude: -81,
  latitude: 39,
  convergence: 0,
};

// OGR's buffer, tests/reference/cover/make_strokes.py.
const { cases } = JSON.parse(
  readFileSync(new URL('../../reference/fixtures/cover/strokes.json', import.meta.url), 'utf8'),
) as { cases: { name: string; path: Point[]; width: number; area: number; cells: number[] }[] };

const areaOf = (path: Point[], width: number) => {
  const area = strokeArea(frame, path, width);
  if (!area || area === 'too fine') throw new Error('an area was expected');
  return area;
};

it('covers the ground a buffer of the stroke covers', () => {
  const about = { room: 'cover', source: 'OGR Buffer', unit: 'of the stroke' } as const;
  const size = outside({ ...about, method: 'Area of a painted stroke', allowed: 0.025 });
  const cells = outside({ ...about, method: 'Cells a painted stroke covers', allowed: 0.05 });
  for (const { path, width, area, cells: wanted } of cases) {
    const found = areaOf(path, width);
    const rings = found.coordinates.map((ring) => ringArea(ring as Point[]));
    size.compare(
      rings.reduce((sum, ring) => sum + ring, 0),
      area,
      area,
    );
    const within = new Set<number>();
    cellsInside(frame, found, (i) => within.add(i));
    const expected = new Set(wanted);
    // Centres of cells that lie on the very edge go one way or the other.
    const wrong =
      [...within].filter((i) => !expected.has(i)).length + wanted.filter((i) => !within.has(i)).length;
    cells.compare(wrong / wanted.length, 0);
  }
  size.done();
  cells.done();
  // A loop leaves the ground in its middle as it was.
  const loop = cases.find(({ name }) => name.includes('hole'))!;
  expect(areaOf(loop.path, loop.width).coordinates).toHaveLength(2);
});

it('says where it cannot: off the map, or a hair’s breadth across the county', () => {
  expect(strokeArea(frame, [[2000, 500]], 20)).toBeNull();
  const far: Point[] = [
    [0, 0],
    [1000, 1000],
  ];
  expect(strokeArea(frame, far, 1)).toBe('too fine');
  expect(strokeArea(frame, far, 20)).toMatchObject({ type: 'Polygon' });
});

it('puts the class it was painted in, the last stroke over the ones before', () => {
  const stroke = (cover: string, path: Point[]): Feature => ({
    id: cover,
    kind: 'truth',
    status: 'existing',
    name: null,
    geometry: areaOf(path, 40),
    attributes: { cover },
    source: 'painted',
  });
  const n = frame.width * frame.height;
  const layers = {
    cover: new Uint8Array(n).fill(COVER.open),
    canopy: new Float32Array(n),
    screening: new Float32Array(n),
    footing: new Float32Array(n).fill(1),
  };
  const across = stroke('brush', [
    [100, 500],
    [900, 500],
  ]);
  const up = stroke('evergreen', [
    [500, 100],
    [500, 900],
  ]);
  drawFeatures(frame, [across, up], layers);
  const at = (x: number, y: number) => layers.cover[Math.floor((1000 - y) / 2) * 500 + Math.floor(x / 2)];
  expect([at(300, 500), at(500, 500), at(500, 300), at(300, 300)]).toEqual([
    COVER.brush,
    COVER.evergreen,
    COVER.evergreen,
    COVER.open,
  ]);
  // What hides a deer in it is not known from its name.
  expect(layers.screening[250 * 500 + 150]).toBeNaN();
});
