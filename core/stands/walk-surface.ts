import { COVER } from '../cover/types.ts';
import { cellsAlong, cellsInside } from '../features/cells.ts';
import { type Feature, ofKind } from '../features/feature.ts';
import { cellAt, cellCentre, cellCount, type Frame, type Grid } from '../grid/frame.ts';
import { coarsen } from '../terrain/coarse.ts';
import type { Barrier } from '../travel/barriers.ts';
import type { MoveCosts } from '../travel/edges.ts';
import { moveCosts } from '../travel/edges.ts';
import type { SightGround } from './sight-window.ts';
import { walkLines } from './walk-lines.ts';

/** Ways are looked for on cells of about this size, m. */
const CELL = 5;

/**
 * Pace against Tobler's speed, and how loud a step is on dry and on damp ground, 0..1. Tobler gives 3/5 off a path; all
 * else is our assumption.
 */
const GROUND: Record<number, { pace: number; dry: number; damp: number }> = {
  [COVER.open]: { pace: 0.6, dry: 0.3, damp: 0.2 },
  [COVER.brush]: { pace: 0.35, dry: 0.9, damp: 0.6 },
  [COVER.deciduous]: { pace: 0.6, dry: 1, damp: 0.35 },
  [COVER.evergreen]: { pace: 0.5, dry: 0.3, damp: 0.2 },
  [COVER.wet]: { pace: 0.25, dry: 0.7, damp: 0.7 },
  [COVER.built]: { pace: 0.6, dry: 0.4, damp: 0.4 },
};
const UNKNOWN = { pace: 0.5, dry: 0.8, damp: 0.5 };
const PATHS: Record<string, { pace: number; dry: number; damp: number; drive: number }> = {
  highway: { pace: 1, dry: 0.2, damp: 0.2, drive: 15 },
  county: { pace: 1, dry: 0.4, damp: 0.4, drive: 11 },
  lane: { pace: 1, dry: 0.4, damp: 0.3, drive: 5 },
  track: { pace: 1, dry: 0.4, damp: 0.2, drive: 3 },
  trail: { pace: 1, dry: 0.7, damp: 0.25, drive: 0 },
};

/** The ground as a person meets it, on cells ways are looked for on. */
export interface WalkSurface {
  frame: Frame;
  elevation: Grid;
  sight: SightGround;
  /** Against Tobler's speed; NaN where nobody walks. */
  pace: Grid;
  /** m/s of a vehicle; NaN where none goes. */
  drive: Grid;
  noise: { dry: Grid; damp: Grid };
  /** 1 on the client's ground and on public roads; all 1 without a boundary. */
  allowed: Uint8Array;
  bounded: boolean;
  lines: Barrier[];
  crossings: MoveCosts;
}

export function walkSurface(ground: SightGround, all: readonly Feature[]): WalkSurface {
  const features = all.filter(({ status }) => status === 'existing');
  const elevation = coarsen(
    ground.elevation,
    Math.max(1, Math.round(CELL / ground.elevation.frame.cellSize)),
  );
  const { frame } = elevation;
  const sight: SightGround = {
    elevation,
    cover: atCentres(ground.cover, frame, new Uint8Array(cellCount(frame))),
    screening: atCentres(ground.screening, frame, new Float32Array(cellCount(frame))),
    vegetation: ground.vegetation && atCentres(ground.vegetation, frame, new Float32Array(cellCount(frame))),
  };
  const blank = (value: number): Grid => ({ frame, cells: new Float32Array(cellCount(frame)).fill(value) });
  const [pace, dry, damp, drive] = [blank(Number.NaN), blank(0), blank(0), blank(Number.NaN)];
  const lay = (i: number, kind: { pace: number; dry: number; damp: number }): void => {
    pace.cells[i] = kind.pace;
    dry.cells[i] = kind.dry;
    damp.cells[i] = kind.damp;
  };
  sight.cover.cells.forEach((code, i) => {
    if (code !== COVER.water && !Number.isNaN(elevation.cells[i]!)) lay(i, GROUND[code] ?? UNKNOWN);
  });
  for (const pond of ofKind(features, 'pond'))
    cellsInside(frame, pond.geometry, (i) => {
      pace.cells[i] = Number.NaN;
    });
  const allowed = new Uint8Array(cellCount(frame));
  const boundaries = ofKind(features, 'boundary');
  if (boundaries.length === 0) allowed.fill(1);
  for (const { geometry } of boundaries)
    cellsInside(frame, geometry, (i) => {
      allowed[i] = 1;
    });
  for (const way of ofKind(features, 'trail', 'road')) {
    const stated = String(way.attributes.class ?? 'county');
    const kind = way.kind === 'trail' ? PATHS.trail! : (PATHS[stated] ?? PATHS.county!);
    const isPublic = way.kind === 'road' && (stated === 'highway' || stated === 'county');
    cellsAlong(frame, way.geometry, 0.75 * frame.cellSize, (i) => {
      lay(i, kind);
      if (kind.drive > 0) drive.cells[i] = kind.drive;
      if (isPublic) allowed[i] = 1;
    });
  }
  const lines = walkLines(features);
  return {
    frame,
    elevation,
    sight,
    pace,
    drive,
    noise: { dry, damp },
    allowed,
    bounded: boundaries.length > 0,
    lines,
    crossings: moveCosts(frame, lines),
  };
}

function atCentres<A extends Uint8Array | Float32Array>(grid: Grid<A>, frame: Frame, cells: A): Grid<A> {
  for (let i = 0; i < cells.length; i++) {
    const from = cellAt(grid.frame, ...cellCentre(frame, i));
    cells[i] = from < 0 ? (cells instanceof Float32Array ? Number.NaN : 0) : grid.cells[from]!;
  }
  return { frame, cells };
}
