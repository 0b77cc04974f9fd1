import { describe, expect, test } from 'vitest';
import type { Point } from '../../../core/grid/frame.ts';
import { walkListOf } from '../../../core/plan/walk-list.ts';
import { inWalkingOrder } from '../../../core/plan/walk-order.ts';
import { smallArtifacts } from '../analysis/report-facts.ts';
import { feature, point } from './scene.ts';

describe('walking order', () => {
  // Corners of a square from its middle: the shortest round is three sides and two half diagonals.
  test('goes round a square, not across it', () => {
    const corners: Point[] = [
      [0, 0],
      [100, 100],
      [0, 100],
      [100, 0],
    ];
    const { length } = inWalkingOrder(corners, [50, 50]);
    expect(length).toBeCloseTo(300 + 2 * Math.hypot(50, 50), 6);
  });

  test('of seven spots is as short as the best of all orders', () => {
    let seed = 7;
    const random = () => {
      seed = (seed * 16807) % 2147483647;
      return seed / 2147483647;
    };
    for (let round = 0; round < 10; round++) {
      const spots: Point[] = Array.from({ length: 7 }, () => [random() * 500, random() * 500]);
      const home: Point = [0, 0];
      let best = Number.POSITIVE_INFINITY;
      const walk = (here: Point, left: Point[], far: number): void => {
        if (far >= best) return;
        if (left.length === 0) best = Math.min(best, far + Math.hypot(...here));
        for (const next of left)
          walk(
            next,
            left.filter((spot) => spot !== next),
            far + Math.hypot(next[0] - here[0], next[1] - here[1]),
          );
      };
      walk(home, spots, 0);
      const found = inWalkingOrder(spots, home);
      // 2-opt from the nearest neighbour ends within a few percent of the best on so few spots.
      expect(found.length).toBeLessThanOrEqual(best * 1.12);
      expect([...found.order].sort()).toEqual([0, 1, 2, 3, 4, 5, 6]);
    }
  });

  test('nothing to see is no walk', () => {
    expect(inWalkingOrder([], null)).toEqual({ order: [], length: 0 });
  });
});

describe('the walk list', () => {
  const artifacts = smallArtifacts();
  const list = walkListOf({
    ...artifacts,
    features: [...artifacts.features, feature('yard', 'access', point(0, 0))],
  });

  test('keeps off the neighbour, and says what would be looked at there', () => {
    expect(list.spots.map(({ title }) => title)).not.toContain('Neck 1');
    const neighbours = artifacts.necks.filter(({ owner, firm }) => owner === 'neighbour' && !firm).length;
    expect(list.elsewhere.filter(({ title }) => /^Neck/.test(title))).toHaveLength(neighbours);
  });

  test('starts at the parking and numbers the stops as they are walked', () => {
    expect(list.startName).toBe('The yard');
    expect(list.spots.map(({ number }) => number)).toEqual(list.spots.map((_, k) => k + 1));
    for (const { look, photograph } of list.spots) {
      expect(look.length).toBeGreaterThan(0);
      expect(photograph.length).toBeGreaterThan(0);
    }
  });

  test('a crossing hinges by its share, a soft neck by the width of its band', () => {
    const far = walkListOf({
      ...artifacts,
      travelAreas: [],
      standRisks: [],
      necks: [{ ...artifacts.necks[1]!, at: [0, 0], owner: 'inside', firm: false }],
      crossings: [{ ...artifacts.crossings[0]!, at: [900, 900], owner: 'inside', share: 0.9 }],
    });
    const { low, high } = artifacts.necks[1]!.spread;
    expect(far.spots.map(({ hinges }) => hinges).sort()).toEqual([high - low, 0.9].sort());
  });
});
