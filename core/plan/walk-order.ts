import type { Point } from '../grid/frame.ts';

const apart = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/**
 * A short round through all spots and back: the nearest next, then turned round wherever two legs cross (2-opt, Croes
 * 1958, Operations Research 6). Straight legs; m.
 *
 * @param start where the round begins and ends; the first spot where it is null
 */
export function inWalkingOrder(
  spots: readonly Point[],
  start: Point | null,
): { order: number[]; length: number } {
  if (spots.length === 0) return { order: [], length: 0 };
  const left = new Set(spots.keys());
  const order: number[] = [];
  let here = start;
  if (!here) {
    order.push(0);
    left.delete(0);
    here = spots[0]!;
  }
  while (left.size > 0) {
    let next = -1;
    for (const index of left)
      if (next < 0 || apart(spots[index]!, here) < apart(spots[next]!, here)) next = index;
    order.push(next);
    left.delete(next);
    here = spots[next]!;
  }
  const home = start ?? spots[order[0]!]!;
  const lengthOf = (round: readonly number[]): number => {
    const path = [home, ...round.map((index) => spots[index]!), home];
    return path.slice(1).reduce((sum, point, k) => sum + apart(path[k]!, point), 0);
  };
  let best = order;
  for (let better = true; better; ) {
    better = false;
    // Without a parking the first spot is where the round begins, and stays so.
    for (let i = start ? 0 : 1; i < best.length - 1 && !better; i++)
      for (let j = i + 1; j < best.length && !better; j++) {
        const turned = [...best.slice(0, i), ...best.slice(i, j + 1).reverse(), ...best.slice(j + 1)];
        if (lengthOf(turned) < lengthOf(best) - 1e-6) {
          best = turned;
          better = true;
        }
      }
  }
  return { order: best, length: lengthOf(best) };
}
