import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import type { Frame, Grid, TypedArray } from '../../../core/grid/frame.ts';

export const frame = (over: Partial<Frame> = {}): Frame => ({
  epsg: 32617,
  west: 439000.5,
  north: 4351000.25,
  cellSize: 2.5,
  width: 300,
  height: 270,
  longitude: -81.7,
  latitude: 39.3,
  convergence: -0.44,
  ...over,
});

/** A grid made from a rule over column and row. */
export function gridOf<A extends TypedArray = Float32Array>(
  on: Frame,
  rule: (column: number, row: number) => number,
  Type: new (length: number) => A = Float32Array as unknown as new (
    length: number,
  ) => A,
): Grid<A> {
  const cells = new Type(on.width * on.height);
  for (let index = 0; index < cells.length; index++) {
    cells[index] = rule(index % on.width, Math.floor(index / on.width));
  }
  return { frame: on, cells };
}

export const bytesOf = (cells: TypedArray): Uint8Array =>
  new Uint8Array(cells.buffer, cells.byteOffset, cells.byteLength);

/** A small made-up set of everything the writers use. */
export function artifactsOf(on: Frame = frame()): Artifacts {
  const wave = (column: number, row: number): number =>
    0.5 + 0.5 * Math.sin(column / 19) * Math.cos(row / 23);
  const east = (metres: number): number => on.west + metres;
  const south = (metres: number): number => on.north - metres;
  return {
    elevation: gridOf(on, (column, row) =>
      column < 40 && row < 30 ? Number.NaN : 200 + 40 * wave(column, row),
    ),
    imagery: null,
    landcover: null,
    vegetation: gridOf(on, (column, row) => 20 * wave(row, column)),
    holes: gridOf(on, (column, row) => (column < 60 && row < 45 ? 1 : 0), Uint8Array),
    features: [
      {
        id: 'line',
        kind: 'boundary',
        status: 'existing',
        name: 'Home farm',
        geometry: {
          type: 'Polygon',
          coordinates: [
            [
              [east(150), south(500)],
              [east(600), south(500)],
              [east(600), south(100)],
              [east(150), south(100)],
              [east(150), south(500)],
            ],
          ],
        },
        attributes: {},
        source: 'boundary.geojson',
      },
      {
        id: 'creek-1',
        kind: 'creek',
        status: 'existing',
        name: null,
        geometry: {
          type: 'LineString',
          coordinates: [
            [east(10), south(300)],
            [east(400), south(320)],
            [east(700), south(280)],
          ],
        },
        attributes: { width: 3, depth: 1.2 },
        source: 'features.geojson',
      },
      {
        id: 'stand-1',
        kind: 'stand',
        status: 'proposed',
        name: 'Oak stand',
        geometry: { type: 'Point', coordinates: [east(300), south(250)] },
        attributes: { seatHeight: 5, weapon: 'bow' },
        source: 'drawn',
      },
    ],
    wind: null,
    slope: gridOf(on, (column, row) => 40 * wave(column, row)),
    aspect: gridOf(on, (column) => (column * 7) % 360),
    shade: gridOf(on, (column, row) => 1 + Math.round(254 * wave(column, row)), Uint8Array),
    filled: gridOf(on, (column, row) => 200 + 40 * wave(column, row)),
    water: gridOf(on, (column, row) => 200 + 40 * wave(column, row)),
    waterWork: gridOf(on, (column, row) => (wave(column, row) > 0.8 ? 1 + (column % 3) : 0), Uint8Array),
    waterChanges: { cuts: [], sinks: [] },
    drainageStart: { cells: 50, area: 20_000, how: 'constant drop' },
    flowDirection: gridOf(on, (column) => 1 + (column % 9), Uint8Array),
    accumulation: gridOf(on, (column, row) => 1 + column * row, Uint32Array),
    channels: [],
    drainageLines: [
      {
        id: 'd1',
        order: 2,
        path: [
          [east(100), south(100)],
          [east(200), south(300)],
        ],
        length: 223.6,
        catchment: 40000,
        drop: 12.5,
        next: null,
      },
    ],
    forms: gridOf(on, (column) => 1 + (Math.floor(column / 20) % 9), Uint8Array),
    saddles: [
      { id: 's1', at: [east(330), south(210)], elevation: 240.5, rise: 6.2, falls: [10, 12], width: null },
    ],
    benches: [
      {
        id: 'b1',
        outline: [
          [
            [east(200), south(200)],
            [east(260), south(200)],
            [east(260), south(150)],
            [east(200), south(150)],
            [east(200), south(200)],
          ],
          [
            [east(220), south(180)],
            [east(220), south(170)],
            [east(240), south(170)],
            [east(240), south(180)],
            [east(220), south(180)],
          ],
        ],
        centre: [east(230), south(175)],
        area: 2800,
        length: 60,
        width: 50,
        slopeAbove: 22,
        slopeBelow: 31,
      },
    ],
    ridges: [],
    draws: [],
    contours: [
      {
        elevation: 220,
        index: true,
        paths: [
          [
            [east(50), south(50)],
            [east(300), south(90)],
            [east(500), south(60)],
          ],
        ],
      },
    ],
    groundDoubts: ['One.'],
    cover: gridOf(on, (_column, row) => 1 + (Math.floor(row / 20) % 7), Uint8Array),
    canopy: gridOf(on, wave),
    screening: gridOf(on, (column, row) => (row < 50 ? Number.NaN : wave(column, row))),
    footing: gridOf(on, wave),
    coverSource: 'imagery',
    coverDoubts: [],
    blocks: gridOf(on, (column) => (column > 200 ? 2 : column > 100 ? 1 : 0), Int32Array),
    coverBlocks: [],
    edgeDistance: gridOf(on, (column) => column - 100),
    assumptions: [],
    resistance: gridOf(on, (column, row) => 1 + 20 * wave(column, row)),
    areas: gridOf(on, (column) => (column > 280 ? 1 : 0), Int32Array),
    travelAreas: [
      {
        id: 1,
        kind: 'bedding',
        name: 'Pine flat',
        source: 'drawn',
        centre: [east(700), south(300)],
        area: 900,
      },
      { id: 2, kind: 'food', name: 'Corn', source: 'drawn', centre: [east(60), south(300)], area: 4000 },
    ],
    corridors: [
      {
        id: 'c1',
        from: 1,
        to: 2,
        cost: 1500,
        length: 700,
        path: [
          [east(700), south(300)],
          [east(300), south(260)],
          [east(60), south(300)],
        ],
        share: 0.4,
      },
    ],
    passage: gridOf(on, (column, row) => (Math.abs(row - 110) < 10 ? 0.02 * wave(column, row) : 0)),
    necks: [
      {
        id: 'n1',
        rank: 1,
        at: [east(300), south(260)],
        line: [
          [east(300), south(240)],
          [east(300), south(280)],
        ],
        width: 40,
        share: 0.41234,
        spread: { low: 0.3, high: 0.5, runs: 8 },
        firm: true,
        pairs: [{ from: 'Pine flat', to: 'Corn', share: 1 }],
        owner: 'inside',
        landmarks: ['saddle', 'draw'],
        reasons: ['Held by steep ground.', 'Firm in every run.'],
      },
    ],
    junctions: [],
    routes: [],
    planTravel: { necks: [], barricades: [], goal: null, closures: [], doubts: [] },
    crossings: [
      {
        id: 'x1',
        kind: 'creek',
        feature: 'creek-1',
        at: [east(380), south(319)],
        share: 0.2,
        corridors: ['c1'],
        owner: 'inside',
        reasons: ['Shallow.'],
      },
    ],
    travelDoubts: [],
    coldAir: gridOf(on, (_column, row) => Math.max(0, (row - 100) / 20)),
    poolDepth: gridOf(on, (column, row) => (row > 200 && column > 100 ? 1.5 : 0)),
    pools: [],
    airSpeed: gridOf(on, () => 1),
    airBearing: gridOf(on, () => 180),
    carries: [
      {
        from: [east(300), south(250)],
        path: [
          [east(300), south(250)],
          [east(310), south(400)],
        ],
        length: 150,
        layerDepth: 4,
        speed: 0.8,
        ends: 'map edge',
        pool: null,
      },
    ],
    airDoubts: [],
    standReaches: [],
    standRisks: [
      {
        id: 'r1',
        subject: { type: 'stand', id: 'stand-1', name: 'Oak stand' },
        at: [east(300), south(250)],
        level: 'caution',
        inPool: false,
        poolDepth: 0,
        carry: [],
        meets: ['corridor'],
        owner: 'inside',
        verdict: 'Scent runs to the corridor.',
        reasons: ['It runs.'],
        doubts: [],
      },
    ],
  } as unknown as Artifacts;
}

interface SeenBand {
  type: string;
  nodata: number | null;
  description: string;
  unit: string;
  sha256: string;
  colours: number;
}
export interface SeenRaster {
  width: number;
  height: number;
  transform: number[];
  epsg: string;
  block: [number, number];
  bands: SeenBand[];
}
export interface SeenLayer {
  type: string;
  epsg: string | null;
  rows: { geometry: GeoJSON.Geometry; valid: boolean; fields: Record<string, unknown> }[];
}
export interface SeenFile {
  raster?: SeenRaster;
  rasters?: Record<string, SeenRaster>;
  layers?: Record<string, SeenLayer>;
}

const python = ['/usr/bin/python3', 'python3'].find(
  (name) => spawnSync(name, ['-c', 'from osgeo import gdal; import numpy']).status === 0,
);

export { seededRandom as numbers } from '../../../core/grid/random.ts';

/** True where GDAL's Python is there; tests that need it say that they were skipped elsewhere. */
export const hasGdal = python !== undefined;
if (!hasGdal)
  console.warn('GDAL for Python (python3-gdal) is not installed: what GDAL sees is not checked here');

/** Opens files with GDAL: what it sees, and every warning it gives. */
export function lookWithGdal(...files: string[]): { messages: string[]; files: SeenFile[] } {
  const script = fileURLToPath(new URL('../../reference/writers/gdal_look.py', import.meta.url));
  const run = spawnSync(python!, [script, ...files], { encoding: 'utf8', maxBuffer: 1 << 28 });
  if (run.status !== 0) throw new Error(run.stderr);
  return JSON.parse(run.stdout);
}
