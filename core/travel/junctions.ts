import type { Feature } from '../features/feature.ts';
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
/** An arm carries at least this share of all travel, and this part of what passes the spot. */
const LEAST_ARM = 0.015;
const LEAST_PART = 0.12;
/** Ways in and out nearer in bearing than this are one arm, degrees. */
const SAME_ARM = 45;
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
  const found = localTops(passage, (LEAST_ARM / 2) * Math.min(1, cellSize / 10))
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
      `The third strand carries ${Math.round(third(arms) * 100)}%.`,
    ],
  }));
}

/** Arms of flow across a circle, the largest first, and the share of all travel that passes it. */
function armsAround(flow: Flow, at: Point, reach: number): { share: number; arms: Junction['arms'] } {
  const pairs = flow.pairs.length;
  // Flow in and out of the circle by pair, and the sum of its bearings' unit vectors.
  const amount = new Float64Array(2 * pairs);
  const east = new Float64Array(2 * pairs);
  const north = new Float64Array(2 * pairs);
  const circle = Array.from({ length: 73 }, (_, k): Point => {
    const angle = (Math.PI * k) / 36;
    return [at[0] + reach * Math.sin(angle), at[1] + reach * Math.cos(angle)];
  });
  // The circle runs clockwise, so a move from its left to its right goes in.
  visitCrossedMoves(flow.frame, circle, CIRCUIT_MOVES, ({ cell, move, x, y, side }) => {
    for (let p = 0; p < pairs; p++) {
      const inward = side * edgeFlow(flow, p, cell, move);
      const k = inward > 0 ? p : pairs + p;
      amount[k]! += Math.abs(inward);
      east[k]! += (Math.abs(inward) * (x - at[0])) / reach;
      north[k]! += (Math.abs(inward) * (y - at[1])) / reach;
    }
  });
  const through = amount.slice(0, pairs).map((value, p) => Math.min(value, amount[pairs + p]!));
  const ways = [];
  for (let k = 0; k < 2 * pairs; k++) {
    const p = k % pairs;
    if (through[p]! < LEAST_OWN) continue;
    ways.push({
      bearing: (Math.atan2(east[k]!, north[k]!) * 180) / Math.PI,
      share: flow.pairs[p]!.pair.share * through[p]!,
    });
  }
  const share = shareOf(flow, through);
  const arms = joinWays(ways).filter((arm) => arm.share >= Math.max(LEAST_ARM, LEAST_PART * share));
  return { share, arms };
}

/** Joins ways by bearing, the closest two first, until all are far enough apart; the largest first. */
function joinWays(ways: Junction['arms']): Junction['arms'] {
  const arms = [...ways];
  for (;;) {
    let closest = SAME_ARM;
    let join: [number, number] | null = null;
    for (let a = 0; a < arms.length; a++)
      for (let b = a + 1; b < arms.length; b++) {
        const apart = Math.abs(((arms[a]!.bearing - arms[b]!.bearing + 540) % 360) - 180);
        if (apart < closest) {
          closest = apart;
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
