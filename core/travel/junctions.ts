import type { Feature } from '../features/feature.ts';
import { bearingOf } from '../grid/bearing.ts';
import { cellCentre, type Grid, type Point } from '../grid/frame.ts';
import { CIRCUIT_MOVES, visitCrossedMoves } from './crossed-moves.ts';
import { edgeFlow, type Flow, shareOf } from './flow.ts';
import { boundaryRings, ownerOf } from './owner.ts';
import { localTops } from './pinch.ts';
import type { Junction } from './types.ts';

/** Choices of ours. m. */
const REACH = 40;
const APART = 100;
const MOST = 12;
/** By an arm comes at least this share of all travel, and this part of what passes the spot. */
const LEAST_ARM = 0.0075;
const LEAST_PART = 0.06;
/** Ways in and out nearer in bearing than this are one arm, degrees. */
const SAME_ARM = 45;
/** Bearings are told apart by this much within one pair's way in or out, degrees. */
const BIN = 5;
/** Two ways of one pair lie apart where its flow falls below this part of its most, over this many degrees. */
const BETWEEN = 0.25;
const GAP = 20;
/** A pair counts at a spot when this part of its own travel passes. */
const LEAST_OWN = 0.1;

/**
 * Junctions: spots with three or more arms of flow across a circle within reach. Every pair that passes comes in and
 * goes out on a mean bearing of its own; bearings close together join into an arm. Ranked by the third arm, which is
 * what a plain strand lacks.
 *
 * @param toArea m from every cell of the flow's frame to the nearest travel area
 */
export function findJunctions(
  flow: Flow,
  passage: Grid,
  toArea: Grid,
  features: readonly Feature[],
): Junction[] {
  const { cellSize } = flow.frame;
  const reach = Math.max(REACH, 4 * cellSize);
  const rings = boundaryRings(features);
  const found = localTops(passage, LEAST_ARM * Math.min(1, cellSize / 10))
    .filter((cell) => toArea.cells[cell]! > reach)
    .flatMap((cell) => {
      const at = cellCentre(flow.frame, cell);
      const around = armsAround(flow, at, reach);
      return around.arms.length >= 3 ? [{ at, ...around }] : [];
    });
  const third = (arms: Junction['arms']): number => arms[2]!.share;
  found.sort((a, b) => third(b.arms) - third(a.arms) || b.share - a.share || a.at[0] - b.at[0]);
  const kept: typeof found = [];
  for (const spot of found) {
    if (kept.length === MOST) break;
    const apart = Math.max(APART, 2 * reach);
    if (!kept.some(({ at }) => Math.hypot(at[0] - spot.at[0], at[1] - spot.at[1]) < apart)) kept.push(spot);
  }
  return kept.map(({ at, share, arms }, k) => ({
    id: `junction-${k + 1}`,
    rank: k + 1,
    at,
    reach,
    share,
    arms,
    owner: ownerOf(rings, [at], cellSize / 2),
    reasons: [
      `${arms.length} strands meet here; ${Math.round(share * 100)}% of all travel passes within reach.`,
      `${Math.round(third(arms) * 100)}% comes in by the third strand; travel runs both ways, so as much leaves by it.`,
    ],
  }));
}

/**
 * Arms of flow across a circle, the largest first, and the share of all travel that passes it. Every pair's ways in
 * and out find the arms; the circle is then shared out to the nearest arm, and the net flow of each pair over an arm's
 * stretch, half of it in and half out as travel runs both ways, is what comes in by it. So the arms add up to at most
 * what passes.
 */
export function armsAround(flow: Flow, at: Point, reach: number): { share: number; arms: Junction['arms'] } {
  const pairs = flow.pairs.length;
  const bins = 360 / BIN;
  // Flow inward by pair and bearing.
  const around = new Float64Array(pairs * bins);
  const into = new Float64Array(pairs);
  const out = new Float64Array(pairs);
  const circle = Array.from({ length: 73 }, (_, k): Point => {
    const angle = (Math.PI * k) / 36;
    return [at[0] + reach * Math.sin(angle), at[1] + reach * Math.cos(angle)];
  });
  // The circle runs clockwise, so a move from its left to its right goes in.
  visitCrossedMoves(flow.frame, circle, CIRCUIT_MOVES, ({ cell, move, x, y, side }) => {
    const bearing = bearingOf(x - at[0], y - at[1]);
    const bin = Math.min(bins - 1, Math.floor(bearing / BIN));
    for (let p = 0; p < pairs; p++) {
      const inward = side * edgeFlow(flow, p, cell, move);
      around[p * bins + bin]! += inward;
      if (inward > 0) into[p]! += inward;
      else out[p]! -= inward;
    }
  });
  const through = into.map((value, p) => Math.min(value, out[p]!));
  const share = shareOf(flow, through);
  const ways = [];
  for (let p = 0; p < pairs; p++) {
    if (through[p]! < LEAST_OWN) continue;
    const of = around.subarray(p * bins, (p + 1) * bins);
    for (const inward of [true, false])
      for (const { bearing, amount } of waysOf(of.map((value) => Math.max(0, inward ? value : -value))))
        ways.push({ bearing, share: (flow.pairs[p]!.pair.share * Math.min(amount, through[p]!)) / 2 });
  }
  const least = Math.max(LEAST_ARM, LEAST_PART * share);
  const found = joinWays(ways).filter((arm) => arm.share >= least);
  if (found.length === 0) return { share, arms: [] };

  const net = new Float64Array(pairs * found.length);
  for (let bin = 0; bin < bins; bin++) {
    const bearing = (bin + 0.5) * BIN;
    let nearest = 0;
    for (let k = 1; k < found.length; k++)
      if (apart(found[k]!.bearing, bearing) < apart(found[nearest]!.bearing, bearing)) nearest = k;
    for (let p = 0; p < pairs; p++) net[nearest * pairs + p]! += around[p * bins + bin]!;
  }
  const arms = found.map(({ bearing }, k) => ({
    bearing,
    share:
      shareOf(
        flow,
        through.map((most, p) => Math.min(most, Math.abs(net[k * pairs + p]!))),
      ) / 2,
  }));
  return { share, arms: arms.filter((arm) => arm.share >= least).sort((a, b) => b.share - a.share) };
}

const apart = (a: number, b: number): number => Math.abs(((a - b + 540) % 360) - 180);

/** The ways one pair takes in, or out: stretches of the circle with little between them, each by its mean bearing. */
function waysOf(amounts: Float64Array): { bearing: number; amount: number }[] {
  const bins = amounts.length;
  let most = 0;
  for (let bin = 0; bin < bins; bin++) most = Math.max(most, amounts[bin]!);
  if (most === 0) return [];
  const high = (bin: number): boolean => amounts[(bin + bins) % bins]! >= BETWEEN * most;
  // Start behind a gap, so that no way is cut in two; without one there is one way all round.
  const gap = Math.ceil(GAP / BIN);
  let start = 0;
  for (let bin = 0, low = 0; bin < 2 * bins; bin++) {
    low = high(bin) ? 0 : low + 1;
    if (low >= gap) {
      start = bin + 1;
      break;
    }
  }
  const ways: { bearing: number; amount: number }[] = [];
  let [amount, east, north, low] = [0, 0, 0, 0];
  const close = (): void => {
    if (amount > 0) ways.push({ bearing: (Math.atan2(east, north) * 180) / Math.PI, amount });
    [amount, east, north] = [0, 0, 0];
  };
  for (let k = 0; k < bins; k++) {
    const bin = (start + k) % bins;
    const angle = ((bin + 0.5) * BIN * Math.PI) / 180;
    low = high(bin) ? 0 : low + 1;
    amount += amounts[bin]!;
    east += amounts[bin]! * Math.sin(angle);
    north += amounts[bin]! * Math.cos(angle);
    if (low === gap) close();
  }
  close();
  return ways;
}

/** Joins ways by bearing, the closest two first, until all are far enough apart; the largest first. */
function joinWays(ways: Junction['arms']): Junction['arms'] {
  const arms = [...ways];
  for (;;) {
    let closest = SAME_ARM;
    let join: [number, number] | null = null;
    for (let a = 0; a < arms.length; a++)
      for (let b = a + 1; b < arms.length; b++) {
        const between = apart(arms[a]!.bearing, arms[b]!.bearing);
        if (between < closest) {
          closest = between;
          join = [a, b];
        }
      }
    if (!join) break;
    const [a, b] = [arms[join[0]]!, arms[join[1]]!];
    arms.splice(join[1], 1);
    const turn = ((b.bearing - a.bearing + 540) % 360) - 180;
    arms[join[0]] = {
      bearing: a.bearing + (turn * b.share) / (a.share + b.share),
      share: a.share + b.share,
    };
  }
  return arms
    .map(({ bearing, share }) => ({ bearing: (bearing + 360) % 360, share }))
    .sort((a, b) => b.share - a.share);
}
