import { compassWord } from '../features/units.ts';
import { bearingOf } from '../grid/bearing.ts';
import { cellAt, type Grid, type Point } from '../grid/frame.ts';
import { placeAlong } from './along.ts';

export interface GentleBank {
  at: Point;
  /** The steeper of the two banks, degrees: at the gentlest place and where it was asked for. */
  slope: number;
  here: number;
  reason: string;
}

/** On cells wider than this the slope of a creek's banks cannot be seen, m: our assumption. */
export const WIDEST_CELL = 5;

/** Banks that differ by less than this are alike, degrees: our assumption. */
const ALIKE = 3;

/**
 * The gentlest banks along a stretch of creek, by the slope of the ground beside the water. Null where the slope is not
 * known at the place asked for.
 *
 * @param width of the water, m
 * @param at along the path, m
 * @param reach to either side of it along the path, m
 * @param slope degrees; NaN no data
 */
export function gentlestBank(
  path: readonly Point[],
  width: number,
  at: number,
  reach: number,
  slope: Grid,
): GentleBank | null {
  const { cellSize } = slope.frame;
  const steepness = (along: number): { spot: Point; steeper: number } | null => {
    const place = placeAlong(path, along);
    const banks = place && banksAt(place, width, slope);
    return banks && { spot: place.spot, steeper: Math.max(...banks) };
  };
  const here = steepness(at);
  if (!here) return null;
  let best = here;
  const steps = Math.floor(reach / cellSize);
  for (let k = -steps; k <= steps; k++) {
    const there = steepness(at + k * cellSize);
    if (there && there.steeper < best.steeper) best = there;
  }
  const isHere = here.steeper - best.steeper < ALIKE;
  const degrees = (value: number): string => `${Math.round(value)}°`;
  const reason = isHere
    ? `Its banks are as gentle here as anywhere near, ${degrees(here.steeper)}.`
    : `The gentlest banks near are ${degrees(best.steeper)} to the ${compassWord(bearingOf(best.spot[0] - here.spot[0], best.spot[1] - here.spot[1]))}, against ${degrees(here.steeper)} here.`;
  return { at: isHere ? here.spot : best.spot, slope: best.steeper, here: here.steeper, reason };
}

/**
 * Slopes of the left and right bank at places along a creek, degrees; null where one is not known or the cells are too
 * wide to show it. By the slope of the ground beside the water, so a bank lower than a cell is wide looks gentler.
 *
 * @param every m between the places; the first at the head of the path
 */
export function bankSlopes(
  path: readonly Point[],
  width: number,
  slope: Grid,
  every: number,
): ([left: number, right: number] | null)[] {
  if (slope.frame.cellSize > WIDEST_CELL) return [];
  const found: ([number, number] | null)[] = [];
  for (let along = 0; ; along += every) {
    const place = placeAlong(path, along);
    if (!place) return found;
    found.push(banksAt(place, width, slope));
  }
}

/** The steepest ground beside the water on the left and on the right, degrees. */
function banksAt(
  { spot, heading }: { spot: Point; heading: Point },
  width: number,
  slope: Grid,
): [number, number] | null {
  const { cellSize } = slope.frame;
  const sides = [1, -1].map((side) =>
    Math.max(
      ...[0.5, 1.5].map((out) => {
        const off = side * (width / 2 + out * cellSize);
        const cell = cellAt(slope.frame, spot[0] - heading[1] * off, spot[1] + heading[0] * off);
        return cell >= 0 ? slope.cells[cell]! : Number.NaN;
      }),
    ),
  ) as [number, number];
  return sides.some(Number.isNaN) ? null : sides;
}
