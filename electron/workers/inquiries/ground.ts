import { sightScreen } from '../../../core/cover/sight-screen.ts';
import { cellAt, cellCentre, type Grid, type Point } from '../../../core/grid/frame.ts';
import { outlines } from '../../../core/grid/outline.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { pathLength } from '../../../core/grid/simplify.ts';
import { catchmentOf } from '../../../core/terrain/catchment.ts';
import { LIT, terrainShadow } from '../../../core/terrain/shadow.ts';
import type { SightOptions } from '../../../core/terrain/sight.ts';
import { nearestDrainage } from '../../../core/terrain/snap.ts';
import { viewshed } from '../../../core/terrain/viewshed.ts';
import { cumulativeView, screenedView } from '../../../core/terrain/visibility.ts';
import { defineInquiry } from './inquiry.ts';

/** A click this near a drainage line means the line, m (our choice), and at least two cells. */
const SNAP_REACH = 30;

const offTheMap = () =>
  new Problem('There is no elevation at that spot.', { fix: 'Click on ground inside the map.' });

/** What drains to a spot. */
export const catchment = defineInquiry({
  needs: ['flowDirection', 'accumulation', 'drainageStart'],
  run({ flowDirection, accumulation, drainageStart }, { at }: { at: Point }, progress) {
    const { frame } = flowDirection;
    const here = cellAt(frame, ...at);
    if (here < 0 || flowDirection.cells[here] === 0) throw offTheMap();
    const reach = Math.max(SNAP_REACH, 2 * frame.cellSize);
    const line = nearestDrainage(accumulation, at, drainageStart.cells, reach);
    const outlet = line < 0 ? here : line;
    const inside = catchmentOf(flowDirection, outlet);
    progress(0.7);
    let cells = 0;
    for (const value of inside.cells) cells += value;
    const rings = outlines(frame, Int32Array.from(inside.cells), 1, frame.cellSize)[0]!;
    const outletAt = cellCentre(frame, outlet);
    return {
      rings,
      area: cells * frame.cellSize ** 2,
      outlet: outletAt,
      snapped: line < 0 ? null : Math.hypot(outletAt[0] - at[0], outletAt[1] - at[1]),
      reachesEdge: touchesUnknown(inside, flowDirection),
    };
  },
});

/** Whether a patch lies against the map's side or ground without data, from where more may drain. */
function touchesUnknown(inside: Grid<Uint8Array>, known: Grid<Uint8Array>): boolean {
  const { width, height } = inside.frame;
  const { cells } = inside;
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (cells[i] === 0) continue;
      if (x === 0 || y === 0 || x === width - 1 || y === height - 1) return true;
      if (
        known.cells[i - 1] === 0 ||
        known.cells[i + 1] === 0 ||
        known.cells[i - width] === 0 ||
        known.cells[i + width] === 0
      )
        return true;
    }
  }
  return false;
}

/** Share of the view of a deer in the open that must be left for it to count as seen (our choice). */
const CLEAR = 0.5;

/** What is seen from a spot, over bare ground or through what stands on it; 0 hidden. */
export const view = defineInquiry({
  needs: ['elevation', 'cover', 'screening'],
  run(
    { elevation, cover, screening },
    question: { at: Point; options: SightOptions; screened: boolean; measured: Grid | null },
    progress,
  ) {
    const { frame } = elevation;
    const { at, options } = question;
    const observer = cellAt(frame, ...at);
    if (observer < 0 || Number.isNaN(elevation.cells[observer]!)) throw offTheMap();
    progress(0.05);
    const seen = question.screened
      ? screenedView(elevation, sightScreen(cover, screening, question.measured), observer, options)
      : viewshed(elevation, observer, options);
    progress(0.9);
    let clear = 0;
    let glimpsed = 0;
    for (const share of seen.cells) {
      if (share >= CLEAR) clear++;
      if (share > 0.05) glimpsed++;
    }
    const cell = frame.cellSize ** 2;
    return { seen: seen as Grid<Uint8Array | Float32Array>, clear: clear * cell, glimpsed: glimpsed * cell };
  },
});

/** Spots of a way that are looked from, at most, and how far apart they are at least, m (our choice). */
const MOST_SPOTS = 200;
const SPOT_EVERY = 10;

/** From where a way is in view: the share of its spots that each cell sees over bare ground, and the most any area sees. */
export const wayView = defineInquiry({
  needs: ['elevation', 'areas', 'travelAreas'],
  run(
    { elevation, areas, travelAreas },
    { path, options }: { path: Point[]; options: SightOptions },
    progress,
  ) {
    const { frame, cells } = elevation;
    const spacing = Math.max(SPOT_EVERY, frame.cellSize, pathLength(path) / MOST_SPOTS);
    const spots = [...new Set(alongPath(path, spacing).map((at) => cellAt(frame, ...at)))].filter(
      (cell) => cell >= 0 && !Number.isNaN(cells[cell]!),
    );
    if (spots.length === 0) throw offTheMap();
    const counts = cumulativeView(elevation, spots, options, progress).cells;
    const share = Float32Array.from(counts, (count) => count / spots.length);
    const most = new Map<number, number>();
    for (let i = 0; i < share.length; i++) {
      const area = areas.cells[i]!;
      if (area !== 0) most.set(area, Math.max(most.get(area) ?? 0, share[i]!));
    }
    let seenFrom = 0;
    for (const value of share) if (value > 0) seenFrom++;
    return {
      share: { frame, cells: share },
      seenFrom: seenFrom * frame.cellSize ** 2,
      spots: spots.length,
      areas: travelAreas
        .map(({ id, name }) => ({ name, share: most.get(id) ?? 0 }))
        .sort((a, b) => b.share - a.share),
    };
  },
});

/** Points of a path at even distances, its first one included. */
function alongPath(path: readonly Point[], spacing: number): Point[] {
  const points: Point[] = [path[0]!];
  let until = spacing;
  for (let k = 1; k < path.length; k++) {
    const [ax, ay] = path[k - 1]!;
    const [bx, by] = path[k]!;
    const length = Math.hypot(bx - ax, by - ay);
    for (; until <= length; until += spacing)
      points.push([ax + ((bx - ax) * until) / length, ay + ((by - ay) * until) / length]);
    until -= length;
  }
  return points;
}

/** Which ground the terrain keeps from the sun. */
export const shadow = defineInquiry({
  needs: ['elevation'],
  run({ elevation }, { azimuth, altitude }: { azimuth: number; altitude: number }, progress) {
    const lit = terrainShadow(elevation, azimuth, altitude, progress);
    let known = 0;
    let shaded = 0;
    for (const value of lit.cells) {
      if (value === 0) continue;
      known++;
      if (value === LIT.shadow) shaded++;
    }
    return { lit, share: known > 0 ? shaded / known : 0 };
  },
});
