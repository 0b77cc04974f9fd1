import type { Geometry } from 'geojson';
import { coverBlocks, distanceToEdge } from '../../../core/cover/blocks.ts';
import { COVER } from '../../../core/cover/types.ts';
import type { AttributeValue, Feature, FeatureKind } from '../../../core/features/feature.ts';
import { cellCentre, cellCount, type Frame, type Grid, type Point } from '../../../core/grid/frame.ts';
import { surfaceOf } from '../../../core/terrain/slope.ts';
import { findAreas } from '../../../core/travel/areas.ts';
import { travelAssumptions, weightsOf } from '../../../core/travel/assumptions.ts';
import { barriersOf } from '../../../core/travel/barriers.ts';
import { findCorridors } from '../../../core/travel/corridors.ts';
import { moveCosts } from '../../../core/travel/edges.ts';
import { reliefGround } from '../../../core/travel/relief.ts';
import { resistanceOf } from '../../../core/travel/resistance.ts';
import { type StudyOptions, studyTravel } from '../../../core/travel/study.ts';
import { underfootOf } from '../../../core/travel/underfoot.ts';
import { solveToday } from '../../../core/travel/what-if.ts';

/** A frame with its south-west corner at 0, 0. */
export const frameOf = (width: number, height: number, cellSize = 5): Frame => ({
  epsg: 32617,
  west: 0,
  north: height * cellSize,
  cellSize,
  width,
  height,
  longitude: -81,
  latitude: 39,
  convergence: 0,
});

export function gridOf(frame: Frame, value: (x: number, y: number) => number): Grid {
  const cells = new Float32Array(cellCount(frame));
  for (let i = 0; i < cells.length; i++) cells[i] = value(...cellCentre(frame, i));
  return { frame, cells };
}

let made = 0;
export const feature = (
  kind: FeatureKind,
  geometry: Geometry,
  attributes: Record<string, AttributeValue> = {},
  status: Feature['status'] = 'existing',
): Feature => ({
  id: `${kind}-${++made}`,
  kind,
  status,
  name: null,
  geometry,
  attributes,
  source: 'drawn',
});
export const line = (...coordinates: Point[]): Geometry => ({ type: 'LineString', coordinates });
export const point = (...coordinates: Point): Geometry => ({ type: 'Point', coordinates });
export const box = (west: number, south: number, east: number, north: number): Geometry => ({
  type: 'Polygon',
  coordinates: [
    [
      [west, south],
      [east, south],
      [east, north],
      [west, north],
      [west, south],
    ],
  ],
});

/** Runs the whole stage on a scene of cover (and slope) with drawn features. */
export function runScene(
  frame: Frame,
  cover: (x: number, y: number) => number,
  features: Feature[],
  options: Partial<StudyOptions> & {
    slope?: (x: number, y: number) => number;
    elevation?: (x: number, y: number) => number;
    maxPairs?: number;
  } = {},
) {
  const unknown = gridOf(frame, () => Number.NaN);
  const codes = { frame, cells: Uint8Array.from(gridOf(frame, cover).cells) };
  const canopy = gridOf(frame, (x, y) => (cover(x, y) === COVER.deciduous ? 0.8 : 0));
  const elevation = gridOf(frame, options.elevation ?? (() => 0));
  const slope = options.slope
    ? gridOf(frame, options.slope)
    : surfaceOf(elevation, { azimuth: 315, altitude: 45 }).slope;
  const edgeDistance = distanceToEdge(codes);
  const inputs = {
    cover: codes,
    canopy,
    screening: unknown,
    footing: unknown,
    slope,
    elevation,
    edgeDistance,
    features,
  };
  const assumptions = travelAssumptions({});
  const weights = weightsOf(assumptions);
  const resistance = resistanceOf(inputs, weights);
  const { blocks, table: blockTable } = coverBlocks(codes);
  const { areas, table } = findAreas({
    frame,
    features,
    blocks,
    coverBlocks: blockTable,
    edgeDistance,
    benches: [],
    beds: [],
    resistance,
  });
  const underfoot = underfootOf(reliefGround(elevation), features, weights);
  const crossings = moveCosts(frame, barriersOf(features, weights), { resistance, underfoot });
  const corridors = findCorridors(resistance, areas, table, crossings, weights, options.maxPairs ?? 12);
  const pairs = corridors.map(({ from, to, share }) => ({ from, to, share }));
  const todayTravel = solveToday({ ...inputs, assumptions, resistance, areas, pairs });
  const study = studyTravel(
    {
      ...inputs,
      coverSource: 'imagery',
      assumptions,
      resistance,
      areas,
      travelAreas: table,
      corridors,
      todayTravel,
      saddles: [],
      benches: [],
      draws: [],
    },
    { maxNecks: 20, runs: 8, seed: 1, ...options },
  );
  return { inputs, resistance, areas, table, travelAreas: table, corridors, todayTravel, ...study };
}
