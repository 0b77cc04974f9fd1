import type { Feature } from '../features/feature.ts';
import type { Grid, Point } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { sampleAt } from './sample.ts';
import type { ChannelStation, DrainageLine } from './types.ts';

/** All of these are our choice, m or tangents. */
const SPACING = 25;
/** How far to each side the bank is looked for, and how far the bed may lie off the drainage line. */
const BANK_SEARCH = 30;
const BED_SEARCH = 5;
/** A bank climbs at least this much before it counts, and ends where the ground eases below this slope. */
const LEAST_BANK = 0.3;
const BANK_TOP = 0.12;
/** Cells the measured width must span before it is stated: three, and the half that a grid adds by smearing. */
const LEAST_CELLS = 3.5;
/** A taped creek speaks for stations this close to it, where it runs within 45 degrees of the line. */
const TAPE_REACH = 15;
const TAPE_ALIGNED = Math.cos(Math.PI / 4);

/**
 * How deep the channel is cut below its banks, every 25 m along the drainage lines. On the cross-section the bed is
 * the lowest place near the line; a bank is climbed until the ground eases, and its top is there; bank-full is the
 * height of the lower top, and the width is taken at that height. A valley side that never eases within 30 m is no
 * bank: the channel has none there.
 *
 * Depth and width are stated only where the width spans at least three cells; the bed of a narrower channel is
 * smeared away. A creek feature with a taped `depth` and `width` overrides what is measured near it.
 */
export function channelStations(
  elevation: Grid,
  lines: readonly DrainageLine[],
  creeks: readonly Feature[],
  progress: Progress = silent,
): ChannelStation[] {
  const taped = creeks.filter(
    ({ attributes }) => typeof attributes.depth === 'number' && typeof attributes.width === 'number',
  );
  const stations: ChannelStation[] = [];
  for (const [n, line] of lines.entries()) {
    if ((n & 63) === 0) progress(n / lines.length);
    for (const { at, along, heading } of placesAlong(line.path, elevation.frame.cellSize)) {
      const station = measure(elevation, at, heading);
      const tape = taped.find((creek) => runsAlong(at, heading, creek));
      stations.push({
        id: `channel-${stations.length + 1}`,
        line: line.id,
        at,
        along,
        ...(tape
          ? {
              left: tape.attributes.depth as number,
              right: tape.attributes.depth as number,
              width: tape.attributes.width as number,
              source: 'field' as const,
            }
          : station),
      });
    }
  }
  return stations;
}

/** Places every 25 m of a path, with the way it runs there smoothed over a few cells. */
function* placesAlong(
  path: readonly Point[],
  cellSize: number,
): Generator<{ at: Point; along: number; heading: Point }> {
  const reach = Math.max(2, Math.round(8 / cellSize));
  let walked = 0;
  let next = SPACING / 2;
  for (let n = 1; n < path.length; n++) {
    const [ax, ay] = path[n - 1]!;
    const [bx, by] = path[n]!;
    const span = Math.hypot(bx - ax, by - ay);
    while (next <= walked + span) {
      const t = (next - walked) / span;
      const from = path[Math.max(0, n - 1 - reach)]!;
      const to = path[Math.min(path.length - 1, n + reach)]!;
      const way = Math.hypot(to[0] - from[0], to[1] - from[1]);
      const heading: Point = [(to[0] - from[0]) / way, (to[1] - from[1]) / way];
      yield { at: [ax + t * (bx - ax), ay + t * (by - ay)], along: next, heading };
      next += SPACING;
    }
    walked += span;
  }
}

type Measures = Pick<ChannelStation, 'left' | 'right' | 'width' | 'source'>;

function measure(elevation: Grid, at: Point, [hx, hy]: Point): Measures {
  const { cellSize } = elevation.frame;
  const step = cellSize / 2;
  const far = Math.max(BANK_SEARCH, 6 * cellSize);
  const half = Math.ceil(far / step);
  // Positive to the left of the way downstream.
  const section = new Float64Array(2 * half + 1);
  for (let n = -half; n <= half; n++)
    section[n + half] = sampleAt(elevation, at[0] - hy * n * step, at[1] + hx * n * step);
  let bed = half;
  const near = Math.ceil(Math.max(BED_SEARCH, 2 * cellSize) / step);
  for (let n = half - near; n <= half + near; n++) if (section[n]! < section[bed]!) bed = n;
  const left = bankTop(section, bed, 1, step, cellSize);
  const right = bankTop(section, bed, -1, step, cellSize);
  if (left === null || right === null) return { left: null, right: null, width: null, source: 'no banks' };
  const full = Math.min(section[left]!, section[right]!);
  const width = (reachOf(section, bed, 1, full) + reachOf(section, bed, -1, full)) * step;
  if (!(width >= LEAST_CELLS * cellSize))
    return { left: null, right: null, width: null, source: 'cells too coarse' };
  return {
    left: section[left]! - section[bed]!,
    right: section[right]! - section[bed]!,
    width,
    source: 'elevation',
  };
}

/** Place of the top of the bank on one side, or null where no bank ends within the section. */
function bankTop(
  section: Float64Array,
  bed: number,
  side: 1 | -1,
  step: number,
  cellSize: number,
): number | null {
  // Slope over a cell, so that the steps of interpolation do not count as breaks.
  const span = Math.max(1, Math.round(cellSize / step));
  for (let n = bed; n >= 0 && n < section.length; n += side) {
    const ahead = section[n + side * span];
    if (ahead === undefined || Number.isNaN(ahead)) return null;
    const climbed = section[n]! - section[bed]!;
    if (climbed >= LEAST_BANK && (ahead - section[n]!) / (span * step) < BANK_TOP) return n;
  }
  return null;
}

/** Steps from the bed to where the section first stands at a height, between samples. */
function reachOf(section: Float64Array, bed: number, side: 1 | -1, height: number): number {
  for (let n = bed; n + side >= 0 && n + side < section.length; n += side) {
    const [here, ahead] = [section[n]!, section[n + side]!];
    if (ahead >= height) return Math.abs(n - bed) + (ahead > here ? (height - here) / (ahead - here) : 1);
  }
  return Number.NaN;
}

/** Whether a creek passes within reach the way the drainage line runs there: a draw that joins it does not count. */
function runsAlong([x, y]: Point, [hx, hy]: Point, { geometry }: Feature): boolean {
  const paths =
    geometry.type === 'LineString'
      ? [geometry.coordinates]
      : geometry.type === 'MultiLineString'
        ? geometry.coordinates
        : [];
  for (const path of paths) {
    for (let n = 1; n < path.length; n++) {
      const [ax, ay] = path[n - 1] as Point;
      const [bx, by] = path[n] as Point;
      const span = Math.hypot(bx - ax, by - ay);
      if (span === 0) continue;
      const along = Math.min(span, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / span));
      const away = Math.hypot(x - ax - (along * (bx - ax)) / span, y - ay - (along * (by - ay)) / span);
      const aligned = Math.abs((bx - ax) * hx + (by - ay) * hy) / span;
      if (away <= TAPE_REACH && aligned >= TAPE_ALIGNED) return true;
    }
  }
  return false;
}
