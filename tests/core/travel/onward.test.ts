import { describe, expect, it } from 'vitest';
import { cellCentre, cellCount, type Frame, type Grid, type Point } from '../../../core/grid/frame.ts';
import { edgeCosts, moveCosts } from '../../../core/travel/edges.ts';
import type { Flow } from '../../../core/travel/flow.ts';
import { type Onward, onwardFrom } from '../../../core/travel/onward.ts';
import { solveFlow } from '../../../core/travel/solve-flow.ts';
import { outside } from '../../outside.ts';
import { frameOf, gridOf } from './scene.ts';

const labelled = (frame: Frame, areas: [Point, number][]): Int32Array =>
  Int32Array.from({ length: cellCount(frame) }, (_, i) => {
    const [x, y] = cellCentre(frame, i);
    return 1 + areas.findIndex(([[ax, ay], radius]) => Math.hypot(x - ax, y - ay) <= radius);
  });

function flowOn(resistance: Grid, areas: [Point, number][], focus: number): Flow {
  const none = moveCosts(resistance.frame, []);
  const pairs = [{ from: 1, to: 2, share: 1 }];
  const labels = labelled(resistance.frame, areas);
  return solveFlow(edgeCosts(resistance, []), labels, pairs, focus, none, { accuracy: 1e-10 });
}

const sumOf = ({ ways, stays }: Onward): number => ways.reduce((sum, { share }) => sum + share, stays);

describe('where a deer goes next', () => {
  const frame = frameOf(120, 80, 5);
  const ends: [Point, number][] = [
    [[100, 200], 12],
    [[500, 200], 12],
  ];
  const even = flowOn(
    gridOf(frame, () => 1),
    ends,
    20,
  );

  it('goes straight to the one end or the other on even ground, half each way', () => {
    const found = onwardFrom(even, [300, 200], 10, 120);
    expect(found.ways).toHaveLength(2);
    expect(sumOf(found)).toBeCloseTo(1, 9);
    const [east, west] = found.ways.toSorted((a, b) => a.bearing - b.bearing);
    // The scene mirrors itself about both its axes.
    expect(east!.bearing).toBeCloseTo(90, 0);
    expect(west!.bearing).toBeCloseTo(270, 0);
    expect(east!.share).toBeCloseTo(0.5, 3);
    expect(east!.legs).toEqual([{ from: 1, to: 2, share: expect.closeTo(1, 9) }]);
    expect(west!.legs).toEqual([{ from: 2, to: 1, share: expect.closeTo(1, 9) }]);
    expect(east!.ends).toBeLessThan(1e-6);
    for (const [x, y] of east!.path) {
      expect(Math.abs(y - 200)).toBeLessThan(4);
      expect(x).toBeGreaterThanOrEqual(298);
    }
    expect(east!.path.at(-1)![0]).toBeGreaterThan(410);
  });

  it('comes to its end where that lies nearer than it is followed, and stays where it is there', () => {
    const near = onwardFrom(even, [440, 200], 10, 120);
    const east = near.ways.find(({ bearing }) => Math.abs(bearing - 90) < 30)!;
    expect(east.ends).toBeCloseTo(1, 3);
    expect(sumOf(near)).toBeCloseTo(1, 9);
    const there = onwardFrom(even, [500, 200], 15, 120);
    expect(there.stays).toBeCloseTo(0.5, 1);
    expect(sumOf(there)).toBeCloseTo(1, 9);
  });

  it('names no way where no travel passes', () => {
    const far = onwardFrom(even, [20, 20], 10, 50);
    expect(far.share).toBeLessThan(1e-3);
    const off = flowOn(
      gridOf(frame, (_, y) => (y > 300 ? Number.NaN : 1)),
      ends,
      20,
    );
    expect(onwardFrom(off, [300, 350], 10, 50)).toEqual({ share: 0, ways: [], stays: 0 });
  });

  it('takes two lanes as a current divider does', () => {
    // One lane that forks at x = 152 into a north lane of 1 and a south lane of 3 and joins again at x = 302.
    const lanes = gridOf(frame, (x, y) => {
      const trunk = Math.abs(y - 202.5) < 2 && (x < 155 || x > 300);
      const rung = (Math.abs(x - 152.5) < 2 || Math.abs(x - 302.5) < 2) && y >= 150 && y <= 255;
      const north = Math.abs(y - 252.5) < 2 && x > 150 && x < 305;
      const south = Math.abs(y - 152.5) < 2 && x > 150 && x < 305;
      return south ? 3 : trunk || rung || north ? 1 : Number.NaN;
    });
    const flow = flowOn(
      lanes,
      [
        [[12.5, 202.5], 3],
        [[582.5, 202.5], 3],
      ],
      0,
    );
    const found = onwardFrom(flow, [102.5, 202.5], 4, 100);
    const shareAt = (bearing: number): number =>
      found.ways.find((way) => Math.abs(way.bearing - bearing) < 20)!.share;
    // An edge costs the mean of its two cells. North: 10 + 30 + 10 edges of 1; south the same but for 30 edges of 3 and
    // two of 2 where the kinds meet.
    const north = 50;
    const south = 18 + 2 * 2 + 30 * 3;
    const check = outside({
      room: 'travel',
      method: 'Where a deer goes next, at a fork of two lanes under random travel',
      source:
        'Current divider: parallel branches carry current as the inverse of their resistance (Kirchhoff 1845)',
      allowed: 1e-6,
      unit: 'share of the deer at the spot',
    });
    check.compare(shareAt(60), (0.5 * south) / (north + south));
    check.compare(shareAt(120), (0.5 * north) / (north + south));
    check.compare(shareAt(270), 0.5);
    check.done();
    expect(sumOf(found)).toBeCloseTo(1, 9);
  });
});
