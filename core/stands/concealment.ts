import { formatShare } from '../features/units.ts';
import { bearingOf } from '../grid/bearing.ts';
import { cellAt, type Frame, type Point } from '../grid/frame.ts';
import { SIGHT } from '../terrain/sight.ts';
import { screenedView } from '../terrain/visibility.ts';
import { along, type Passable } from './reach.ts';
import type { SightWindow } from './sight-window.ts';
import { DEER_EYE, eyeHeight } from './spot.ts';
import type { Concealment, SeenFrom, StandSpot } from './types.ts';

/** Degrees of a direction. */
const WIDTH = 30;
/** What lies this far behind the hunter still breaks the outline, m: our assumption. */
export const BACKDROP = 60;
/** Less of the view lost behind than this leaves the outline bare: our assumption. */
const BARE = 0.2;
/** More of the hunter in view than this is seen: our choice. */
const SEEN = 0.1;

/**
 * What deer on the lines of travel round a stand make of the hunter in it: how much is left of the view through cover,
 * and what stands behind: ground that rises above the line of the look, brush or timber that the line runs into, or
 * sky. A view is the same both ways, so it is looked from the stand to the eye of the deer. A moving hunter, smell and
 * sound are not in it.
 *
 * @param window reaching at least `reach` and `BACKDROP` from the stand
 * @param reach how far deer are looked for, m
 */
export function concealmentOf(
  window: SightWindow,
  spot: StandSpot,
  lines: readonly Passable[],
  reach: number,
): Concealment {
  const { frame, elevation } = window;
  const here = cellAt(frame, ...spot.at);
  const head = elevation.cells[here]! + eyeHeight(spot);
  const seenFrom = screenedView(elevation, window.standing, here, {
    observerHeight: eyeHeight(spot),
    targetHeight: DEER_EYE,
    radius: reach,
    refraction: SIGHT.refraction,
  }).cells;
  const sums = Array.from({ length: 360 / WIDTH }, () => ({ looks: 0, seen: 0, backing: 0, skyline: 0 }));
  for (const cell of cellsPassed(frame, lines, spot.at, reach)) {
    const [dx, dy] = offset(frame, cell, spot.at);
    const distance = Math.hypot(dx, dy);
    if (distance < frame.cellSize || Number.isNaN(elevation.cells[cell]!)) continue;
    const bearing = bearingOf(dx, dy);
    const sum = sums[Math.floor(bearing / WIDTH) % sums.length]!;
    const eye = elevation.cells[cell]! + DEER_EYE;
    const backing = backingOf(window, spot.at, head, (head - eye) / distance, [
      -dx / distance,
      -dy / distance,
    ]);
    sum.looks++;
    sum.seen += seenFrom[cell]!;
    sum.backing += backing;
    if (backing < BARE && seenFrom[cell]! > SEEN) sum.skyline++;
  }
  const directions = sums.flatMap(({ looks, seen, backing, skyline }, k): SeenFrom[] =>
    looks === 0
      ? []
      : [
          {
            bearing: (k + 0.5) * WIDTH,
            seen: seen / looks,
            skyline: skyline > 0,
            backing: backing / looks,
          },
        ],
  );
  const looks = sums.reduce((sum, each) => sum + each.looks, 0);
  const share = (of: 'seen' | 'skyline'): number =>
    looks === 0 ? 0 : sums.reduce((sum, each) => sum + each[of], 0) / looks;
  const [seen, skylined] = [share('seen'), share('skyline')];
  return { directions, seen, skylined, sentences: sentencesOf(directions, seen, skylined) };
}

/** Cells that lines of travel pass within a distance of the stand; without lines, a ring of places all round. */
function cellsPassed(frame: Frame, lines: readonly Passable[], at: Point, reach: number): Set<number> {
  const cells = new Set<number>();
  const add = (place: Point): void => {
    const i = cellAt(frame, ...place);
    if (i >= 0 && Math.hypot(place[0] - at[0], place[1] - at[1]) <= reach) cells.add(i);
  };
  for (const { path } of lines) for (const { at: place } of along(path, frame.cellSize)) add(place);
  if (cells.size === 0)
    for (let b = 0; b < 2 * Math.PI; b += Math.PI / 36)
      add([at[0] + Math.sin(b) * reach * 0.9, at[1] + Math.cos(b) * reach * 0.9]);
  return cells;
}

function offset(frame: Frame, cell: number, [x, y]: Point): Point {
  const row = Math.floor(cell / frame.width);
  return [
    frame.west + (cell - row * frame.width + 0.5) * frame.cellSize - x,
    frame.north - (row + 0.5) * frame.cellSize - y,
  ];
}

/**
 * Share of the outline that is broken by what a look runs into behind the hunter: 1 for ground, else the view that
 * brush and timber there take.
 */
function backingOf(
  { frame, elevation, standing }: SightWindow,
  at: Point,
  head: number,
  rise: number,
  [east, north]: Point,
): number {
  const step = frame.cellSize;
  let depth = 0;
  for (let d = step; d <= BACKDROP; d += step) {
    const i = cellAt(frame, at[0] + east * d, at[1] + north * d);
    if (i < 0) break;
    const z = elevation.cells[i]!;
    const line = head + rise * d;
    if (z >= line) return 1;
    const share = standing.loss.cells[i]!;
    if (share > 0 && line - z < standing.height.cells[i]!)
      depth -= Math.log1p(-Math.min(share, 0.999)) * step;
  }
  return 1 - Math.exp(-depth);
}

function sentencesOf(directions: readonly SeenFrom[], seen: number, skylined: number): string[] {
  if (directions.length === 0) return ['No travel near enough to see the stand.'];
  const worst = directions.reduce((a, b) => (b.seen > a.seen ? b : a));
  const sentences = [
    `Deer passing near have on average ${formatShare(seen)} of the hunter in view, most from ${Math.round(worst.bearing)}° (${formatShare(worst.seen)}).`,
  ];
  sentences.push(
    skylined > 0
      ? `${formatShare(skylined)} of the looks find the hunter against the sky.`
      : 'Ground, brush or timber stands behind the hunter in every look from travel.',
  );
  return sentences;
}
