import type { NearGround } from '../air/near-ground.ts';
import type { StabilityClass } from '../air/plume.ts';
import { cellAt, type Frame, type Grid, type Point } from '../grid/frame.ts';
import { outlines } from '../grid/outline.ts';
import { findPatches } from '../grid/patches.ts';
import { ringArea } from '../grid/simplify.ts';
import { NOSE_THRESHOLD } from './nose.ts';
import { airEddies, airHangs, beddingIn, byNose, thinning } from './scent.ts';
import { farthest, goesOn, mainBearing, travelThrough } from './scent-reading.ts';
import type { ScentFinding, ScentGround } from './scent-types.ts';
import { WALKER } from './scent-way.ts';

/** Particles of a first look: half as many as the full answer follows. */
const PARTICLES = 2000;
/** Patches and holes of fewer cells are grain of the particles, and not drawn: our choice. */
const GRAIN = 8;

/** A neck and whether scent lies on it. */
export interface NeckSmelled {
  rank: number;
  /** Over the usual threshold, over that of a keen nose alone, or neither. */
  met: 'usual' | 'keen' | 'no';
}

/** Where a person on foot is smelled, at a first look. */
export interface Smelled
  extends Pick<ScentFinding, 'hangs' | 'eddying' | 'carry' | 'beyond' | 'bearing' | 'travel' | 'bedding'> {
  necks: NeckSmelled[];
  /** Rings round where scent is over the usual threshold, and over that of a keen nose, as `outlines` gives them. */
  usual: Point[][];
  keen: Point[][];
}

/**
 * Where a person who stands at a spot is smelled: the particles of the full answer, fewer of them, and without what
 * creeks do.
 *
 * @param air on a window round the spot
 * @param necks the best first
 */
export function smelledFrom(
  at: Point,
  air: NearGround,
  kind: StabilityClass | 'calm drainage',
  ground: Pick<ScentGround, 'areas' | 'travelAreas' | 'routes'>,
  necks: readonly { rank: number; line: [Point, Point] }[],
  seed: number,
): Smelled {
  const { dilution, age, followed } = thinning({ at, seatHeight: WALKER }, air, kind, seed, PARTICLES);
  return {
    hangs: airHangs(air, at),
    eddying: airEddies(air, at),
    carry: byNose((threshold) => farthest(dilution, at, threshold)),
    beyond: byNose((threshold) => goesOn(dilution, age, followed, threshold)),
    bearing: mainBearing(dilution, at),
    travel: byNose((threshold) => travelThrough(dilution, ground.routes, threshold)),
    bedding: beddingIn(dilution, ground),
    necks: necks.map(({ rank, line }) => {
      const most = mostAlong(dilution, line);
      const met = most >= NOSE_THRESHOLD.usual ? 'usual' : most >= NOSE_THRESHOLD.low ? 'keen' : 'no';
      return { rank, met };
    }),
    usual: ringsOver(dilution, NOSE_THRESHOLD.usual),
    keen: ringsOver(dilution, NOSE_THRESHOLD.low),
  };
}

/** The most scent on a line, looked at every half cell; 0 off the grid. */
function mostAlong({ frame, cells }: Grid, [[ax, ay], [bx, by]]: [Point, Point]): number {
  const pieces = Math.max(1, Math.ceil((2 * Math.hypot(bx - ax, by - ay)) / frame.cellSize));
  let most = 0;
  for (let p = 0; p <= pieces; p++) {
    const cell = cellAt(frame, ax + ((bx - ax) * p) / pieces, ay + ((by - ay) * p) / pieces);
    if (cell >= 0 && cells[cell]! > most) most = cells[cell]!;
  }
  return most;
}

/** Rings round the cells over a threshold, without the grain. */
function ringsOver({ frame, cells }: Grid, threshold: number): Point[][] {
  const over = Uint8Array.from(cells, (dose) => (dose >= threshold ? 1 : 0));
  const least = GRAIN * frame.cellSize ** 2;
  const { labels } = findPatches(frame, over, 8, least);
  const one = labels.cells.map((label) => (label > 0 ? 1 : 0));
  return outlinesOf(frame, one).filter((ring) => Math.abs(ringArea(ring)) >= least / 2);
}

const outlinesOf = (frame: Frame, mask: Int32Array): Point[][] =>
  outlines(frame, mask, 1, frame.cellSize)[0]!;
