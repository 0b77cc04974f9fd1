import { describe, expect, it } from 'vitest';
import { cellAt, cellCount, type Frame, type Grid, type Point } from '../../../core/grid/frame.ts';
import { accumulateCost, traceCells } from '../../../core/travel/cost.ts';
import { edgeCosts, moveCosts } from '../../../core/travel/edges.ts';
import { type Flow, netAcross, passageOf } from '../../../core/travel/flow.ts';
import { solveFlow } from '../../../core/travel/solve-flow.ts';
import { frameOf, gridOf } from './scene.ts';

function flowOn(resistance: Grid, labels: Int32Array, focus: number, accuracy = 1e-7): Flow {
  const none = moveCosts(resistance.frame, []);
  return solveFlow(edgeCosts(resistance, []), labels, [{ from: 1, to: 2, share: 1 }], focus, none, {
    accuracy,
  });
}

function discs(frame: Frame, a: Point, b: Point, radius: number): Int32Array {
  const labels = new Int32Array(cellCount(frame));
  gridOf(frame, (x, y) =>
    Math.hypot(x - a[0], y - a[1]) <= radius ? 1 : Math.hypot(x - b[0], y - b[1]) <= radius ? 2 : 0,
  ).cells.forEach((label, i) => {
    labels[i] = label;
  });
  return labels;
}

/** Two gaps in a belt of dear ground, the north one a longer way round. */
const belt = (x: number, y: number): number =>
  Math.abs(x - 300) < 20 && Math.abs(y - 200) > 15 && Math.abs(y - 330) > 15 ? 30 : 1.2;

describe('flow between random walk and least-cost path', () => {
  it.each([0, 3, 10, 20])('conserves: nothing is lost between the areas at focus %d', (focus) => {
    const frame = frameOf(120, 80, 5);
    const resistance = gridOf(frame, belt);
    const labels = discs(frame, [100, 200], [500, 200], 20);
    const flow = flowOn(resistance, labels, focus);
    const { window, east, south } = flow.pairs[0]!;
    let worst = 0;
    for (let y = 0, k = 0; y < window.height; y++)
      for (let x = 0; x < window.width; x++, k++) {
        if (labels[(window.row + y) * frame.width + window.column + x] !== 0) continue;
        const left = (x > 0 ? east[k - 1]! : 0) + (y > 0 ? south[k - window.width]! : 0);
        worst = Math.max(worst, Math.abs(left - east[k]! - south[k]!));
      }
    expect(worst).toBeLessThanOrEqual(1e-6);
    // All of it crosses any line between the two areas.
    expect(
      netAcross(flow, [
        [250, -10],
        [200, 410],
      ])[0],
    ).toBeCloseTo(1, 5);
  });

  it('tends to the electrical flow as focus goes to zero', () => {
    const frame = frameOf(60, 40, 5);
    const resistance = gridOf(frame, (x, y) => 1 + Math.abs(Math.sin(x / 30) * Math.cos(y / 20)) * 4);
    const labels = discs(frame, [60, 100], [240, 90], 3);
    const electrical = passageOf(flowOn(resistance, labels, 0), resistance).cells;
    const nearly = passageOf(flowOn(resistance, labels, 1e-3, 1e-10), resistance).cells;
    let worst = 0;
    for (let i = 0; i < nearly.length; i++) worst = Math.max(worst, Math.abs(nearly[i]! - electrical[i]!));
    expect(worst).toBeLessThan(2e-3);
  });

  it('gathers on the least-cost path as focus grows', () => {
    const frame = frameOf(120, 80, 5);
    const resistance = gridOf(frame, (x, y) => belt(x, y) + 0.3 * Math.sin(x / 40) * Math.sin(y / 35));
    const labels = discs(frame, [100, 220], [500, 220], 5);
    const from = Int32Array.from(labels, (label) => (label === 1 ? 1 : 0));
    const way = traceCells(accumulateCost(resistance, from), frame.width, labels.indexOf(2));
    const near = new Uint8Array(cellCount(frame));
    for (const cell of way)
      for (let dy = -6; dy <= 6; dy++)
        for (let dx = -6; dx <= 6; dx++) near[cell + dy * frame.width + dx] = 1;
    const held = [0, 5, 12, 24].map((focus) => {
      const { cells } = passageOf(flowOn(resistance, labels, focus), resistance);
      let sum = 0;
      let all = 0;
      cells.forEach((value, i) => {
        all += value;
        if (near[i]) sum += value;
      });
      return sum / all;
    });
    for (let k = 1; k < held.length; k++) expect(held[k]!).toBeGreaterThan(held[k - 1]!);
    expect(held.at(-1)!).toBeGreaterThan(0.8);
  });

  it('splits between two gaps nearly alike on cells of 2.5, 5 and 10 m', () => {
    const shares = [2.5, 5, 10].map((cellSize) => {
      const frame = frameOf(600 / cellSize, 400 / cellSize, cellSize);
      const resistance = gridOf(frame, belt);
      const labels = discs(frame, [100, 200], [500, 200], 20);
      const flow = flowOn(resistance, labels, 10, 1e-5);
      return Math.abs(
        netAcross(flow, [
          [300, 175],
          [300, 225],
        ])[0]!,
      );
    });
    expect(shares[0]!).toBeGreaterThan(0.5);
    expect(Math.abs(shares[1]! - shares[0]!)).toBeLessThan(0.03);
    expect(Math.abs(shares[2]! - shares[0]!)).toBeLessThan(0.06);
  });

  it('says so when two areas are cut off', () => {
    const frame = frameOf(40, 20, 5);
    const resistance = gridOf(frame, (x) => (Math.abs(x - 100) < 5 ? Number.NaN : 1));
    const flow = flowOn(resistance, discs(frame, [40, 50], [160, 50], 5), 10);
    expect(flow.pairs).toEqual([]);
    expect(flow.cutOff).toHaveLength(1);
    expect(cellAt(frame, 100, 50)).toBeGreaterThan(0);
  });
});
