import { describe, expect, test } from 'vitest';
import type { Grid } from '../../../core/grid/frame.ts';
import { NEIGHBOURS_8 } from '../../../core/grid/neighbours.ts';
import { carvedDirections } from '../../../core/terrain/carving.ts';
import { catchmentOf } from '../../../core/terrain/catchment.ts';
import { heightAboveDrainage } from '../../../core/terrain/drainage-height.ts';
import { fillDepressions } from '../../../core/terrain/filling.ts';
import { accumulate, flowDirections } from '../../../core/terrain/flow.ts';
import { drainageLines, findReaches, type Reach, stemsOf } from '../../../core/terrain/reaches.ts';
import { chooseThreshold, dropDifference } from '../../../core/terrain/threshold.ts';
import { outside } from '../../outside.ts';
import { testFrame } from '../grid/frames.ts';
import { elevationOf, groundCases, groundFrom, mirrored, roughGround, turned, unpack } from './grounds.ts';

// Reference: skimage.morphology.reconstruction by erosion (scikit-image 0.19), tests/reference/terrain/make_ground.py.
test.each(groundCases)('the filled surface equals morphological reconstruction on $name', (reference) => {
  const expected = unpack(reference.filled);
  const elevation = elevationOf(reference);
  const filled = fillDepressions(elevation).cells;
  let raised = 0;
  const check = outside({
    room: 'terrain',
    method: 'Filled surface',
    source: 'scikit-image 0.19 reconstruction',
    unit: 'm',
    allowed: 0,
  });
  for (let i = 0; i < filled.length; i++) {
    check.compare(filled[i]!, expected[i]!);
    if (filled[i]! > elevation.cells[i]!) raised++;
  }
  check.done();
  expect(raised).toBeGreaterThan(10);
});

// The worked 6 x 6 grid of Jenson & Domingue, "Extracting topographic structure from digital elevation data",
// Photogrammetric Engineering and Remote Sensing 54 (1988). Values from memory, in the common rendering of the
// example with codes 1, 2, 4 ... 128 clockwise from east and accumulation without the cell itself.
describe('the worked grid of Jenson & Domingue', () => {
  // biome-ignore format: a grid reads as a grid
  const elevation: Grid = {
    frame: testFrame(6, 6, 1),
    cells: Float32Array.from([
      78, 72, 69, 71, 58, 49,
      74, 67, 56, 49, 46, 50,
      69, 53, 44, 37, 38, 48,
      64, 58, 55, 22, 31, 24,
      68, 61, 47, 21, 16, 19,
      74, 53, 34, 12, 11, 12,
    ]),
  };
  const directions = flowDirections(fillDepressions(elevation));
  const jenson = (method: string, unit: string) =>
    outside({
      room: 'terrain',
      method,
      source: 'Jenson & Domingue 1988, worked grid (values from memory)',
      unit,
      allowed: 0,
    });
  test('flow direction', () => {
    // biome-ignore format: a grid reads as a grid
    const published = [
      2, 2, 2, 4, 4, 8,
      2, 2, 2, 4, 4, 8,
      1, 1, 2, 4, 8, 4,
      128, 128, 1, 2, 4, 8,
      2, 2, 1, 4, 4, 4,
      1, 1, 1, 1, 4, 16,
    ];
    const last = 34; // the lowest cell, on the edge: the published code points off the map
    const found = Array.from(directions.cells, (code, i) => (i === last ? 4 : 2 ** (code - 1)));
    const check = jenson('Flow directions', 'codes');
    found.forEach((code, i) => {
      check.same(code, published[i]);
    });
    check.done();
    expect(directions.cells[last]).toBe(9);
  });
  test('accumulation', () => {
    // biome-ignore format: a grid reads as a grid
    const published = [
      0, 0, 0, 0, 0, 0,
      0, 1, 1, 2, 2, 0,
      0, 3, 7, 5, 4, 0,
      0, 0, 0, 20, 0, 1,
      0, 0, 0, 1, 24, 0,
      0, 2, 4, 7, 35, 1,
    ];
    const check = jenson('Flow accumulation', 'cells');
    accumulate(directions).cells.forEach((cells, i) => {
      check.compare(cells - 1, published[i]!);
    });
    check.done();
  });
});

/** Where each cell's water ends, walking the plain way; throws on a loop. */
function outletOf(directions: Grid<Uint8Array>, start: number): number {
  let i = start;
  for (let steps = 0; directions.cells[i]! < 9; steps++) {
    if (steps > directions.cells.length) throw new Error(`water from ${start} runs in a circle`);
    const k = directions.cells[i]! - 1;
    i += NEIGHBOURS_8.dx[k]! + NEIGHBOURS_8.dy[k]! * directions.frame.width;
  }
  return i;
}

function besideOutside(grid: Grid, i: number): boolean {
  const { width, height } = grid.frame;
  const x = i % width;
  const y = Math.floor(i / width);
  for (let k = 0; k < 8; k++) {
    const c = x + NEIGHBOURS_8.dx[k]!;
    const r = y + NEIGHBOURS_8.dy[k]!;
    if (c < 0 || r < 0 || c >= width || r >= height || Number.isNaN(grid.cells[r * width + c]!)) return true;
  }
  return false;
}

const grounds: [string, Grid][] = [
  ...groundCases.map((reference): [string, Grid] => [reference.name, elevationOf(reference)]),
  ['rough 1', roughGround(70, 50, 1)],
  [
    'steps with wide flats',
    groundFrom(60, 45, 2, (x, y) => Math.round((x + 2 * y) / 40 + Math.sin(x / 9) * 1.2)),
  ],
  ['all level', groundFrom(30, 20, 2, () => 12)],
  ['a bowl', groundFrom(40, 40, 2, (x, y) => (x - 40) ** 2 + (y - 40) ** 2)],
];

describe.each(grounds)('properties on %s', (_, elevation) => {
  const filled = fillDepressions(elevation);
  const directions = flowDirections(filled);
  const accumulation = accumulate(directions).cells;
  const known = elevation.cells.reduce((count, z) => count + (Number.isNaN(z) ? 0 : 1), 0);

  test('filled is at or above the raw surface, and filling again changes nothing', () => {
    for (let i = 0; i < filled.cells.length; i++) {
      if (Number.isNaN(elevation.cells[i]!)) expect(filled.cells[i]).toBeNaN();
      else if (!(filled.cells[i]! >= elevation.cells[i]!)) throw new Error(`cell ${i} was lowered`);
    }
    expect(fillDepressions(filled).cells).toEqual(filled.cells);
  });
  test('every cell drains, never uphill, to the edge of the map or of the data', () => {
    for (let i = 0; i < filled.cells.length; i++) {
      if (Number.isNaN(filled.cells[i]!)) {
        expect(directions.cells[i]).toBe(0);
        continue;
      }
      const end = outletOf(directions, i);
      if (!besideOutside(elevation, end)) throw new Error(`water from ${i} ends inside, at ${end}`);
      const k = directions.cells[i]! - 1;
      if (k < 8) {
        const j = i + NEIGHBOURS_8.dx[k]! + NEIGHBOURS_8.dy[k]! * elevation.frame.width;
        expect(filled.cells[j]!).toBeLessThanOrEqual(filled.cells[i]!);
      }
    }
  });
  test('accumulation counts every cell once: outlets add up to the map, and each cell by plain walking', () => {
    let out = 0;
    const counted = new Uint32Array(accumulation.length);
    for (let i = 0; i < accumulation.length; i++) {
      if (directions.cells[i] === 9) out += accumulation[i]!;
      for (let j = i; directions.cells[j] !== 0; ) {
        counted[j]!++;
        if (directions.cells[j] === 9) break;
        const k = directions.cells[j]! - 1;
        j += NEIGHBOURS_8.dx[k]! + NEIGHBOURS_8.dy[k]! * elevation.frame.width;
      }
    }
    expect(out).toBe(known);
    expect(counted).toEqual(accumulation);
  });
  test('filling is exact under turning and mirroring', () => {
    expect(fillDepressions(turned(elevation)).cells).toEqual(turned(filled).cells);
    expect(fillDepressions(mirrored(elevation)).cells).toEqual(mirrored(filled).cells);
  });
  test('carved directions reach the edge too, each cell once', () => {
    const carved = carvedDirections(elevation);
    let out = 0;
    const area = accumulate(carved).cells;
    for (let i = 0; i < area.length; i++) if (carved.cells[i] === 9) out += area[i]!;
    expect(out).toBe(known);
  });
});

test('on ground without ties and pits, accumulation is the same under turning and mirroring', () => {
  const filled = groundFrom(
    50,
    37,
    2,
    (x, y) => 300 - 0.31 * x - 0.173 * y + 3 * Math.sin(x / 11.3) * Math.cos(y / 8.1),
  );
  const straight = fillDepressions(filled);
  expect(straight.cells).toEqual(filled.cells);
  const drained = (grid: Grid): Float32Array => Float32Array.from(accumulate(flowDirections(grid)).cells);
  const expected = { frame: filled.frame, cells: drained(filled) };
  expect(drained(turned(filled))).toEqual(turned(expected).cells);
  expect(drained(mirrored(filled))).toEqual(mirrored(expected).cells);
});

test('a wide flat sends its water to the outlet, away from the walls', () => {
  // A basin of level ground, walls on all sides, one way out in the south wall.
  const elevation = groundFrom(21, 21, 1, () => 10);
  const at = (x: number, y: number): number => y * 21 + x;
  for (let n = 0; n < 21; n++)
    for (const i of [at(n, 0), at(n, 20), at(0, n), at(20, n)]) elevation.cells[i] = 15;
  elevation.cells[at(10, 20)] = 9;
  const directions = flowDirections(fillDepressions(elevation));
  for (let y = 1; y < 20; y++)
    for (let x = 1; x < 20; x++) expect(outletOf(directions, at(x, y))).toBe(at(10, 20));
  // Mid-wall cells leave their wall before they turn to the outlet.
  expect([8, 1, 2]).toContain(directions.cells[at(1, 10)]);
  expect([2, 3, 4]).toContain(directions.cells[at(10, 1)]);
});

describe('the drainage net', () => {
  // A textbook net after Strahler (1957): two heads join to order 2, twice; the two of order 2 join to order 3;
  // a head that joins an order 2 changes nothing. Cut into a plane that tilts south.
  const width = 33;
  const height = 40;
  const channel = new Set<number>();
  const dig = (x0: number, y0: number, x1: number, y1: number): void => {
    const steps = Math.max(Math.abs(x1 - x0), Math.abs(y1 - y0));
    for (let n = 0; n <= steps; n++)
      channel.add(
        Math.round(y0 + ((y1 - y0) * n) / steps) * width + Math.round(x0 + ((x1 - x0) * n) / steps),
      );
  };
  dig(4, 2, 8, 12); // heads of the western branch
  dig(12, 2, 8, 12);
  dig(20, 2, 24, 12); // heads of the eastern branch
  dig(28, 2, 24, 12);
  dig(8, 12, 16, 26);
  dig(24, 12, 16, 26);
  dig(2, 12, 11, 18); // a head that joins the western order 2
  dig(16, 26, 16, 39);
  const elevation: Grid = {
    frame: testFrame(width, height, 5),
    cells: Float32Array.from({ length: width * height }, (_, i) => {
      const y = Math.floor(i / width);
      return 200 - y - (channel.has(i) ? 8 : 0);
    }),
  };
  const filled = fillDepressions(elevation);
  const directions = flowDirections(filled);
  const accumulation = accumulate(directions);
  const reaches = findReaches(directions, accumulation, 25);
  const lines = drainageLines(reaches, filled);

  test('has the orders of the textbook', () => {
    const orders = reaches.map((reach) => reach.order);
    expect(Math.max(...orders)).toBe(3);
    const mouth = reaches[0]!;
    expect(mouth.order).toBe(3);
    expect(mouth.next).toBe(-1);
    const joining = reaches.filter((reach) => reach.next === 0 && reach.order === 2);
    expect(joining).toHaveLength(2);
    for (const [k, reach] of reaches.entries()) {
      const above = reaches.filter((other) => other.next === k).map((other) => other.order);
      const top = Math.max(0, ...above);
      const expected = top === 0 ? 1 : above.filter((order) => order === top).length > 1 ? top + 1 : top;
      expect(reach.order).toBe(expected);
    }
  });
  test('lines meet, fall downstream and know what they join', () => {
    const byId = new Map(lines.map((line) => [line.id, line]));
    for (const line of lines) {
      expect(line.path.length).toBeGreaterThan(1);
      if (line.next === null) continue;
      const next = byId.get(line.next)!;
      expect(line.path[line.path.length - 1]).toEqual(next.path[0]);
      expect(next.catchment).toBeGreaterThan(line.catchment);
    }
    expect(lines[0]!.drop).toBeGreaterThan(10);
  });
  test('stems hold each reach once', () => {
    const held = stemsOf(reaches, 'area').flatMap((stem) => stem.reaches);
    expect(held.sort((a, b) => a - b)).toEqual(reaches.map((_, k) => k));
  });
  test('height above drainage is zero in the channel and the drop to it elsewhere', () => {
    const mask = Uint8Array.from(elevation.cells, (_, i) => (channel.has(i) ? 1 : 0));
    const above = heightAboveDrainage(filled, directions, mask).cells;
    for (let i = 0; i < above.length; i++) {
      if (channel.has(i)) expect(above[i]).toBe(0);
      else if (!Number.isNaN(above[i]!)) expect(above[i]).toBeGreaterThan(0);
    }
    expect(above.filter((h) => h > 0).length).toBeGreaterThan(300);
  });
});

describe('catchments', () => {
  test.each(grounds)('of every hundredth cell on %s count what accumulation counts', (_, elevation) => {
    const directions = flowDirections(fillDepressions(elevation));
    const accumulation = accumulate(directions).cells;
    for (let i = 0; i < accumulation.length; i += 97) {
      const inside = catchmentOf(directions, i).cells;
      expect(inside.reduce((sum, cell) => sum + cell, 0)).toBe(accumulation[i]);
    }
  });
});

describe('the constant-drop threshold', () => {
  /** Invented streams: `drops` by order, each joining one of the next order. */
  const reachesOf = (first: number[], second: number[]): { reaches: Reach[]; elevation: Grid } => {
    const frame = testFrame(100, 1, 1);
    const cells = new Float32Array(100);
    const reaches: Reach[] = [{ cells: Int32Array.from([98, 99]), order: 3, next: -1, drained: 1000 }];
    let at = 0;
    for (const [drops, order, next] of [
      [second, 2, 0],
      [first, 1, 1],
    ] as const) {
      for (const drop of drops) {
        cells[at] = drop;
        reaches.push({ cells: Int32Array.from([at, at + 1]), order, next, drained: 500 - reaches.length });
        at += 2;
      }
    }
    return { reaches, elevation: { frame, cells } };
  };
  test('is a two-sample t with pooled variance', () => {
    // scipy.stats.ttest_ind([5, 6, 7, 8, 9, 10], [6, 8, 10, 12, 14]), SciPy 1.10.
    const { reaches, elevation } = reachesOf([5, 6, 7, 8, 9, 10], [6, 8, 10, 12, 14]);
    const check = outside({
      room: 'terrain',
      method: 'Two-sample t of the drops of streams',
      source: 'SciPy 1.10 ttest_ind',
      unit: 't',
      allowed: 1e-9,
    });
    check.compare(dropDifference(reaches, elevation)!, -1.6333965194414122);
    check.done();
  });
  test('is left open with too few streams', () => {
    const { reaches, elevation } = reachesOf([5, 6], [6, 8, 10, 12, 14]);
    expect(dropDifference(reaches, elevation)).toBeNull();
  });
  test('the user goes before the test, and no map is too small to have one', () => {
    const elevation = roughGround(60, 50, 8);
    const directions = flowDirections(fillDepressions(elevation));
    const accumulation = accumulate(directions);
    expect(chooseThreshold(directions, accumulation, elevation, 400)).toEqual({
      cells: 100,
      area: 400,
      how: 'set by the user',
    });
    expect(chooseThreshold(directions, accumulation, elevation, null).cells).toBeGreaterThanOrEqual(50);
  });
});
