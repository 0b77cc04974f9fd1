import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { nightDrainage } from '../../../core/air/drainage.ts';
import { fillPools } from '../../../core/air/pools.ts';
import { fillDepressions } from '../../../core/terrain/filling.ts';
import { outside } from '../../outside.ts';

// Outside check: an independent map of cold-air pooling by terrain alone, after Lundquist, Pepin & Rochford (2008), on
// real ground. It knows no physics and we know nothing of its rules; where it says that air pools ours must lie
// deep, and where it says never, shallow.
const fixture = JSON.parse(
  readFileSync(new URL('../fixtures/air/pool-map.json', import.meta.url), 'utf8'),
) as { width: number; height: number; cellSize: number; elevation: number[]; map: string };
const { width, height, cellSize } = fixture;
const frame = {
  epsg: 32616,
  west: 0,
  north: 0,
  cellSize,
  width,
  height,
  longitude: -84,
  latitude: 36.6,
  convergence: 0,
};
const elevation = { frame, cells: Float32Array.from(fixture.elevation) };
const night = nightDrainage(elevation, { frame, cells: new Uint8Array(width * height) }, 50, 8);
/** Cells of the map away from its edge, where our air runs off and its windows are cut. */
const inside = [...fixture.map].map((kind, i) => {
  const x = i % width;
  const y = Math.floor(i / width);
  return x > 8 && y > 8 && x < width - 9 && y < height - 9 ? kind : '';
});
const median = (kind: string) => {
  const depths = inside
    .flatMap((here, i) => (here === kind ? [night.depth.cells[i]!] : []))
    .sort((a, b) => a - b);
  return depths[Math.floor(depths.length / 2)]!;
};

test('cold air lies deep where the terrain rules say it pools and shallow where they say it never does', () => {
  expect(median('p')).toBeGreaterThan(5 * median('n'));
  expect(median('p')).toBeGreaterThan(median('.'));
  expect(median('.')).toBeGreaterThan(median('n'));
});

test('taking a pooling and a never-pooling cell at random, the pooling one has the deeper air nine times in ten', () => {
  const known = inside.flatMap((kind, i) =>
    kind === 'p' || kind === 'n' ? [{ pool: kind === 'p', depth: night.depth.cells[i]! }] : [],
  );
  known.sort((a, b) => a.depth - b.depth);
  let wins = 0;
  let nevers = 0;
  for (const { pool } of known) {
    if (pool) wins += nevers;
    else nevers++;
  }
  const pooling = known.length - nevers;
  expect(pooling).toBeGreaterThan(1000);
  expect(nevers).toBeGreaterThan(1000);
  const check = outside({
    room: 'air',
    method:
      'Cold air deeper at a cell where it pools than at one where it never does: chance of the other way round',
    source: 'Lundquist, Pepin & Rochford 2008, a map by terrain alone on real ground',
    unit: 'of the pairs of cells',
    allowed: 0.1,
  });
  check.part(pooling * nevers - wins, pooling * nevers);
  check.done();
});

test('hardly any still pool lies where they say never', () => {
  const { depth } = fillPools(elevation, fillDepressions(elevation), night.standing);
  const pooled = inside.flatMap((kind, i) => (kind !== '' && depth.cells[i]! > 0 ? [kind] : []));
  expect(pooled.length).toBeGreaterThan(50);
  expect(pooled.filter((kind) => kind === 'n').length / pooled.length).toBeLessThan(0.05);
});
