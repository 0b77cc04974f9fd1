import { describe, expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import type { Point } from '../../../core/grid/frame.ts';
import { visitCrossedMoves } from '../../../core/travel/crossed-moves.ts';
import { PACE } from '../../../core/travel/routes.ts';
import { box, feature, frameOf, line, point, runScene } from './scene.ts';

const bed = (x: number, y: number) => feature('bedding', box(x - 30, y - 30, x + 30, y + 30));
const food = (x: number, y: number) => feature('food', box(x - 30, y - 30, x + 30, y + 30));

describe('junctions', () => {
  // Strips of timber in a field that meet in the middle: three arms west, north-east and south-east.
  const frame = frameOf(160, 120, 5);
  const near = (x: number, y: number, a: Point, b: Point): boolean => {
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const t = Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy)));
    return Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy) < 18;
  };
  const hub: Point = [400, 300];
  const ends: Point[] = [
    [60, 300],
    [700, 520],
    [700, 80],
  ];
  it('lie where three strips meet, with an arm along each', () => {
    const scene = runScene(
      frame,
      (x, y) => (ends.some((end) => near(x, y, hub, end)) ? COVER.deciduous : COVER.open),
      ends.map(([x, y], k) => (k === 0 ? bed(x, y) : food(x, y))),
      { runs: 0 },
    );
    const [junction] = scene.junctions;
    expect(junction).toBeDefined();
    expect(Math.hypot(junction!.at[0] - hub[0], junction!.at[1] - hub[1])).toBeLessThan(60);
    const bearings = junction!.arms.map(({ bearing }) => bearing).sort((a, b) => a - b);
    expect(bearings).toHaveLength(3);
    [54, 126, 270].forEach((wanted, k) => {
      expect(Math.abs(bearings[k]! - wanted)).toBeLessThan(25);
    });
    // What comes in by one arm goes out by the others.
    const [largest, ...others] = junction!.arms.map(({ share }) => share);
    expect(largest!).toBeCloseTo(
      others.reduce((sum, share) => sum + share, 0),
      1,
    );
    expect(largest! + others[0]! + others[1]!).toBeLessThanOrEqual(junction!.share + 1e-9);
    // Hardly any travel leaves the strips, so the arms miss little of what passes.
    expect(largest! + others[0]! + others[1]!).toBeGreaterThan(0.9 * junction!.share);
  });

  it('lie where the strand of one pair forks, with as much by each branch as the branch carries', () => {
    // Two strips part at the hub and end at one food plot: one pair, three strands.
    const join: Point = [700, 300];
    const fork = (x: number, y: number): boolean =>
      near(x, y, ends[0]!, hub) ||
      near(x, y, hub, [560, 440]) ||
      near(x, y, hub, [560, 160]) ||
      near(x, y, [560, 440], join) ||
      near(x, y, [560, 160], join);
    const scene = runScene(
      frame,
      (x, y) => (fork(x, y) ? COVER.deciduous : COVER.open),
      [bed(60, 300), food(700, 300)],
      { runs: 0 },
    );
    const [junction] = scene.junctions.filter(({ at }) => Math.hypot(at[0] - hub[0], at[1] - hub[1]) < 60);
    expect(junction!.arms).toHaveLength(3);
    const [trunk, ...branches] = junction!.arms;
    expect(trunk!.share).toBeCloseTo(junction!.share / 2, 1);
    for (const { share } of branches) expect(share).toBeCloseTo(junction!.share / 4, 1);
  });

  it('never tell more by their arms than passes, whatever the ground (travel that comes in goes out)', () => {
    const scene = runScene(
      frame,
      (x, y) => (Math.sin(x / 23) * Math.cos(y / 31) > 0.3 ? COVER.open : COVER.deciduous),
      [bed(60, 60), bed(60, 540), bed(400, 40), food(740, 540), food(740, 80), food(420, 560)],
      { runs: 0 },
    );
    expect(scene.junctions.length).toBeGreaterThan(1);
    for (const { arms, share } of scene.junctions) {
      expect(arms.reduce((sum, arm) => sum + arm.share, 0)).toBeLessThanOrEqual(share + 1e-9);
    }
  });

  it('are not found on a single strand', () => {
    const scene = runScene(
      frame,
      (x, y) => (near(x, y, [60, 300], [740, 300]) ? COVER.deciduous : COVER.open),
      [bed(60, 300), food(740, 300)],
      { runs: 0 },
    );
    expect(scene.junctions).toEqual([]);
    expect(scene.necks.length).toBeGreaterThan(0);
  });
});

describe('redundancy', () => {
  // A fence as tall as a deer can jump never, with one gate or with two gates near each other.
  const frame = frameOf(120, 80, 5);
  const fence = feature('fence', line([300, -10], [300, 410]), { height: 4 });
  const gates = (...at: number[]) => at.map((y) => feature('gap', point(300, y), { type: 'gate', width: 5 }));
  const firstNeck = (...at: number[]) =>
    runScene(frame, () => COVER.deciduous, [bed(80, 200), food(520, 200), fence, ...gates(...at)], {
      runs: 0,
    }).necks[0]!;
  it('is next to nothing at an only gate, and high where a second stands near', () => {
    expect(firstNeck(200).redundancy!).toBeLessThan(0.02);
    expect(firstNeck(200, 240).redundancy!).toBeGreaterThan(0.6);
    expect(firstNeck(200, 240).share).toBeLessThan(firstNeck(200).share);
  });
});

describe('sampled routes', () => {
  const frame = frameOf(120, 80, 5);
  const fence = feature('fence', line([300, -10], [300, 410]), { height: 4 });
  const gate = feature('gap', point(300, 260), { type: 'gate', width: 5 });
  const scene = runScene(frame, () => COVER.deciduous, [bed(80, 200), food(520, 200), fence, gate], {
    runs: 0,
  });

  it('run from area to area both ways, at dusk to food and at dawn from it', () => {
    expect(scene.routes).toHaveLength(8);
    for (const { path, length, minutes, from, when } of scene.routes) {
      const [start, end] = [path[0]!, path.at(-1)!];
      const toFood = from.startsWith('Bedding');
      expect(when).toBe(toFood ? 'dusk' : 'dawn');
      expect(Math.abs((toFood ? start : end)[0] - 80)).toBeLessThanOrEqual(30);
      expect(Math.abs((toFood ? end : start)[0] - 520)).toBeLessThanOrEqual(30);
      expect(length).toBeGreaterThan(380);
      expect(minutes).toBeCloseTo(length / PACE / 60, 9);
    }
    expect(scene.routes.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
  });

  it('pass the one gate', () => {
    for (const { path } of scene.routes) {
      let nearest = Number.POSITIVE_INFINITY;
      visitCrossedMoves(frame, path, [0, 2], ({ x, y }) => {
        nearest = Math.min(nearest, Math.hypot(x - 300, y - 260));
      });
      expect(nearest).toBeLessThan(12);
    }
  });

  it('repeat with the seed', () => {
    const again = runScene(frame, () => COVER.deciduous, [bed(80, 200), food(520, 200), fence, gate], {
      runs: 0,
      seed: 2,
    });
    expect(again.routes.map(({ path }) => path)).not.toEqual(scene.routes.map(({ path }) => path));
  });
});
