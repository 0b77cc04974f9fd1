import { describe, expect, test } from 'vitest';
import type { Grid } from '../../../core/grid/frame.ts';
import { gradesAlong, profileAlong } from '../../../core/terrain/profile.ts';
import { testFrame } from '../grid/frames.ts';

/** Analytic grounds: a plane and a hole in it. Bilinear sampling of a plane is exact. */
const frame = testFrame(40, 30, 5);
const plane = (dx: number, dy: number): Grid => ({
  frame,
  cells: Float32Array.from({ length: 40 * 30 }, (_, i) => {
    const x = ((i % 40) + 0.5) * 5;
    const y = (Math.floor(i / 40) + 0.5) * 5;
    return 100 + dx * x - dy * y;
  }),
});
const { west, north } = frame;

describe('the ground under a line', () => {
  test('of a plane: lengths, climb, grade and corners are those of trigonometry', () => {
    const ground = plane(0.3, 0.4);
    // Along the steepest rise, 50 m: a 3-4-5 direction, grade 0.5.
    const up = profileAlong(ground, [
      [west + 50, north - 100],
      [west + 80, north - 60],
    ]);
    expect(up.length).toBeCloseTo(50, 9);
    expect(up.climb).toBeCloseTo(25, 4);
    expect(up.descent).toBe(0);
    expect(up.surfaceLength).toBeCloseTo(Math.hypot(50, 25), 4);
    expect(up.known).toBe(1);
    for (const grade of gradesAlong(up.places, 10)) expect(grade).toBeCloseTo(0.5, 4);
    // There and back again along the contour and the fall.
    const bent = profileAlong(ground, [
      [west + 50, north - 100],
      [west + 80, north - 60],
      [west + 120, north - 90],
      [west + 90, north - 130],
    ]);
    expect(bent.length).toBeCloseTo(150, 9);
    expect(bent.climb).toBeCloseTo(25, 4);
    expect(bent.descent).toBeCloseTo(25, 4);
    const corners = bent.places.filter(({ distance }) =>
      [50, 100].some((at) => Math.abs(distance - at) < 1e-9),
    );
    expect(corners.map(({ at }) => at)).toEqual([
      [west + 80, north - 60],
      [west + 120, north - 90],
    ]);
    for (let n = 1; n < bent.places.length; n++)
      expect(bent.places[n]!.distance - bent.places[n - 1]!.distance).toBeLessThanOrEqual(2.5 + 1e-9);
  });

  test('unknown ground is a gap, never a slope, and one place is a profile without length', () => {
    const ground = plane(0.2, 0);
    for (let c = 18; c < 22; c++) for (let r = 0; r < 30; r++) ground.cells[r * 40 + c] = Number.NaN;
    const over = profileAlong(ground, [
      [west + 50, north - 75],
      [west + 150, north - 75],
    ]);
    expect(over.known).toBeLessThan(1);
    expect(over.known).toBeGreaterThan(0.6);
    const grades = gradesAlong(over.places, 5);
    over.places.forEach(({ distance }, n) => {
      if (distance > 45 && distance < 55) expect(grades[n]).toBeNaN();
      if (distance < 25) expect(grades[n]).toBeCloseTo(0.2, 4);
    });
    const one = profileAlong(ground, [[west + 50, north - 75]]);
    expect([one.length, one.climb, one.places.length]).toEqual([0, 0, 1]);
    expect(gradesAlong(one.places, 5)[0]).toBeNaN();
    expect(() => profileAlong(ground, [])).toThrow('at least one point');
  });
});
