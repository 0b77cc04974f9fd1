import type { Artifacts, Results } from '../../core/analysis/artifacts.ts';
import type { Grid, TypedArray } from '../../core/grid/frame.ts';
import type { GridName } from '../writers/grid-catalog.ts';

/**
 * The results of a run in parts, each saved in a transaction of its own, so that an edit need not wait for all of
 * them. Results count only once the last part is there.
 */
export type ResultPart =
  | { type: 'start' }
  | { type: 'grid'; name: KeptGrid; grid: Grid<TypedArray> | null }
  | { type: 'rest'; artifacts: Partial<Artifacts> };

/**
 * Grids that follow from the elevation alone in a second or two (slope, aspect, shade …) are left out, so that the
 * file stays small enough to mail.
 */
export const KEPT_GRIDS = [
  'accumulation',
  'forms',
  'cover',
  'canopy',
  'screening',
  'footing',
  'blocks',
  'resistance',
  'areas',
  'passage',
  'coldAir',
  'poolDepth',
] as const satisfies readonly (GridName & keyof Results)[];

export type KeptGrid = (typeof KEPT_GRIDS)[number];

/** Sources have their own places; contours follow from the elevation, and the flow of travel is solved in seconds. */
const ELSEWHERE = new Set([
  'elevation',
  'imagery',
  'landcover',
  'surroundings',
  'wind',
  'contours',
  'todayTravel',
  // Only steps on the way to the necks.
  'sought',
  'trials1',
  'trials2',
  'trials3',
  'trials4',
  'marginShares',
]);

export function resultParts(artifacts: Partial<Artifacts>): ResultPart[] {
  const rest = Object.fromEntries(
    Object.entries(artifacts).filter(([name, value]) => {
      const isGrid = typeof value === 'object' && value !== null && 'cells' in value;
      return value !== undefined && !isGrid && !ELSEWHERE.has(name);
    }),
  ) as Partial<Artifacts>;
  return [
    { type: 'start' },
    ...KEPT_GRIDS.map((name): ResultPart => ({ type: 'grid', name, grid: artifacts[name] ?? null })),
    { type: 'rest', artifacts: rest },
  ];
}
