import type { NearGround } from '../air/near-ground.ts';
import { openWidths, releaseScent } from '../air/particles.ts';
import type { StabilityClass } from '../air/plume.ts';
import { formatLength, formatShare, type Units } from '../features/units.ts';
import { cellAt, type Frame, type Grid, type Point } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { pathLength } from '../grid/simplify.ts';
import { roughly } from './coarse.ts';
import { NOSE_THRESHOLD } from './nose.ts';
import { beddingIn, byNose, dilutionOf } from './scent.ts';
import { travelThrough } from './scent-reading.ts';
import type { ScentGround } from './scent-types.ts';
import { bandWords } from './scent-words.ts';

/** One minute of a walk and what its scent touches. */
export interface Stretch {
  /** m along the way. */
  from: number;
  to: number;
  path: Point[];
  bedding: string[];
  /** Share of travel. */
  travel: number;
}

/** What the scent of a walker does along a way. */
export interface WayScent {
  /** The worst minute of each place: s/m3 of what is given off a second. */
  dilution: Grid;
  length: number;
  minutes: number;
  travel: { usual: number; low: number; high: number };
  bedding: string[];
  stretches: Stretch[];
  verdict: string;
}

/** A walker's scent is let go at this height, m: our assumption. */
export const WALKER = 1;
/** Particles for each minute, how long they are followed and in which steps, s. */
const PARTICLES = 1500;
const FOLLOWED = 900;
const STEP = 2;
const MINUTE = 60;
/** Longer walks are looked at in so many pieces, of more than a minute each. */
const MOST_STRETCHES = 60;

/**
 * Scent along a way that is walked. A walker passes, so a place has scent for about as long as the stretch upwind of
 * it is walked: the way is taken a minute at a time, and each place by its worst minute. What lingers in air that
 * stands still is not added up from minute to minute.
 *
 * @param air on a window that holds the way and what lies downwind of it
 * @param pace m/s
 * @throws Error when none of the way lies on the air's frame
 */
export function scentAlong(
  path: readonly Point[],
  pace: number,
  air: NearGround,
  kind: StabilityClass | 'calm drainage',
  ground: Pick<ScentGround, 'areas' | 'travelAreas' | 'routes'>,
  units: Units,
  progress: Progress = silent,
): WayScent {
  const { frame } = air.field;
  const length = pathLength(path);
  const seconds = length / pace;
  const count = Math.min(MOST_STRETCHES, Math.max(1, Math.ceil(seconds / MINUTE)));
  const cells = new Float32Array(frame.width * frame.height);
  const stretches: Stretch[] = [];
  for (let k = 0; k < count; k++) {
    const from = (length * k) / count;
    const to = (length * (k + 1)) / count;
    const piece = pieceOf(path, from, to);
    progress(k / count);
    if (!piece.some(([x, y]) => cellAt(frame, x, y) >= 0)) continue;
    const { dose } = releaseScent(air.field, {
      from: piece,
      height: WALKER,
      particles: PARTICLES,
      seconds: FOLLOWED,
      step: STEP,
      seed: 1 + k,
      width: openWidths(kind === 'calm drainage' ? 'F' : kind),
    });
    const minute = dilutionOf(frame, dose);
    for (let i = 0; i < cells.length; i++) if (minute.cells[i]! > cells[i]!) cells[i] = minute.cells[i]!;
    stretches.push({
      from,
      to,
      path: piece,
      bedding: beddingIn(minute, ground),
      travel: travelThrough(minute, ground.routes, NOSE_THRESHOLD.usual),
    });
  }
  if (stretches.length === 0) throw new Error('none of the way lies on the frame of the air');
  const dilution = { frame, cells };
  const travel = byNose((threshold) => travelThrough(dilution, ground.routes, threshold));
  const bedding = [...new Set(stretches.flatMap((stretch) => stretch.bedding))];
  const found = { length, minutes: seconds / MINUTE, travel, bedding, stretches };
  return { dilution, ...found, verdict: roughly(frame.cellSize, words(found, units)) };
}

/** A square frame that holds a way and `reach` metres round it, on cells of the property or 5 m at least. */
export function windowAlong(frame: Frame, path: readonly Point[], reach: number): Frame {
  const xs = path.map(([x]) => x);
  const ys = path.map(([, y]) => y);
  const west = Math.min(...xs) - reach;
  const north = Math.max(...ys) + reach;
  const side = Math.max(Math.max(...xs) + reach - west, north - (Math.min(...ys) - reach));
  const cellSize = Math.max(5, frame.cellSize);
  const cells = Math.ceil(side / cellSize);
  return { ...frame, cellSize, width: cells, height: cells, west, north };
}

/** The part of a path between two distances along it. */
function pieceOf(path: readonly Point[], from: number, to: number): Point[] {
  const piece: Point[] = [];
  let along = 0;
  for (let k = 1; k < path.length; k++) {
    const [ax, ay] = path[k - 1]!;
    const [bx, by] = path[k]!;
    const length = Math.hypot(bx - ax, by - ay);
    const at = (distance: number): Point => {
      const share = length > 0 ? (distance - along) / length : 0;
      return [ax + (bx - ax) * share, ay + (by - ay) * share];
    };
    if (along + length >= from && along <= to) {
      if (piece.length === 0) piece.push(at(Math.max(from, along)));
      piece.push(at(Math.min(to, along + length)));
    }
    along += length;
  }
  return piece;
}

function words(
  { length, minutes, travel, bedding, stretches }: Omit<WayScent, 'dilution' | 'verdict'>,
  units: Units,
): string {
  const walked = `${formatLength(length, units)} in ${Math.max(1, Math.round(minutes))} min`;
  const parts: string[] = [];
  const bad = stretches.filter((stretch) => stretch.bedding.length > 0);
  if (bad.length > 0) {
    const first = bad[0]!;
    const last = bad[bad.length - 1]!;
    parts.push(
      `drags scent through bedding (${bedding.join(', ')}) from ${formatLength(first.from, units)} to ${formatLength(last.to, units)} along it`,
    );
  }
  parts.push(
    travel.usual > 0
      ? `its scent meets ${formatShare(travel.usual)} of travel${bandWords(travel)}`
      : travel.high > 0
        ? `its scent misses the trails, unless deer scent keenly (then ${formatShare(travel.high)} of travel)`
        : 'its scent misses the trails',
  );
  const [first, ...rest] = parts;
  return `${walked}: ${[first, ...rest].join(', ')}.`;
}
