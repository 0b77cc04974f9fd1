import { describe, expect, it } from 'vitest';
import { NEIGHBOURS_16 } from '../../../core/grid/neighbours.ts';
import { seededRandom } from '../../../core/grid/random.ts';
import { accumulateCost } from '../../../core/travel/cost.ts';
import { frameOf } from './scene.ts';

const [width, height, cellSize] = [53, 41, 2.5];
const random = seededRandom(4);
const frame = frameOf(width, height, cellSize);
const cells = Float32Array.from({ length: width * height }, () =>
  random() < 0.06 ? Number.NaN : random() < 0.3 ? 1 : 0.4 + 30 * random() ** 4,
);
const labels = new Int32Array(width * height);
for (const [k, cell] of [310, 1500, 1501].entries()) labels[cell] = k + 1;
const slot = new Int32Array(width * height);
let rows = 1;
for (let i = 0; i < slot.length; i++) if (random() < 0.15) slot[i] = rows++;
const extra = Float64Array.from({ length: rows * 16 }, (_, k) =>
  k < 16 || random() < 0.4 ? 0 : random() < 0.3 ? Number.POSITIVE_INFINITY : 80 * random(),
);

/** Cost of a move, from the words of `accumulateCost`. */
function moveCost(from: number, move: number, lines: boolean): number {
  const [dx, dy] = [NEIGHBOURS_16.dx[move]!, NEIGHBOURS_16.dy[move]!];
  const [x, y] = [(from % width) + dx, Math.floor(from / width) + dy];
  if (x < 0 || y < 0 || x >= width || y >= height) return Number.POSITIVE_INFINITY;
  const passed = [from, y * width + x];
  if (move >= 8) {
    const wide = Math.abs(dx) === 2;
    passed.push(
      from + (wide ? Math.sign(dx) : Math.sign(dy) * width),
      from + Math.sign(dx) + Math.sign(dy) * width,
    );
  }
  const mean = passed.reduce((sum, cell) => sum + cells[cell]!, 0) / passed.length;
  const cost = Math.hypot(dx, dy) * cellSize * mean + (lines ? extra[slot[from]! * 16 + move]! : 0);
  return Number.isNaN(cost) ? Number.POSITIVE_INFINITY : cost;
}

// What a least cost must be, whoever found it: Bellman, "On a routing problem", Q. Appl. Math. 16, 1958.
describe("Bellman's condition holds in every cell", () => {
  it.each([
    [8, false],
    [8, true],
    [16, false],
    [16, true],
  ] as const)('over %i neighbours, lines: %s', (neighbours, lines) => {
    const crossings = lines ? { slot, extra, least: Infinity, relief: null } : null;
    const { cost, via } = accumulateCost({ frame, cells }, labels, { neighbours, crossings });
    const best = new Float64Array(cost.length).fill(Number.POSITIVE_INFINITY);
    for (let i = 0; i < cost.length; i++) {
      if (Number.isNaN(cells[i]!)) continue;
      if (labels[i]! > 0) best[i] = 0;
      for (let move = 0; move < neighbours; move++) {
        const step = moveCost(i, move, lines);
        if (step === Number.POSITIVE_INFINITY) continue;
        const to = i + NEIGHBOURS_16.dx[move]! + NEIGHBOURS_16.dy[move]! * width;
        best[to] = Math.min(best[to]!, cost[i]! + step);
      }
    }
    let reached = 0;
    for (let i = 0; i < cost.length; i++) {
      if (best[i] === Number.POSITIVE_INFINITY) {
        expect(cost[i]).toBe(best[i]);
        expect(via[i]).toBe(0);
        continue;
      }
      reached++;
      expect(Math.abs(cost[i]! - best[i]!)).toBeLessThanOrEqual(1e-12 * best[i]!);
      if (labels[i]! > 0) continue;
      const move = via[i]! - 1;
      const before = i - NEIGHBOURS_16.dx[move]! - NEIGHBOURS_16.dy[move]! * width;
      expect(Math.abs(cost[before]! + moveCost(before, move, lines) - cost[i]!)).toBeLessThanOrEqual(
        1e-12 * cost[i]!,
      );
    }
    expect(reached).toBeGreaterThan(1900);
  });

  it('keeps all cells within a limit, and none beyond it', () => {
    const crossings = { slot, extra, least: Infinity, relief: null };
    const all = accumulateCost({ frame, cells }, labels, { crossings });
    const near = accumulateCost({ frame, cells }, labels, { crossings, limit: 60 });
    expect(Array.from(near.cost)).toEqual(
      Array.from(all.cost, (cost) => (cost <= 60 ? cost : Number.POSITIVE_INFINITY)),
    );
  });
});
