import { describe, expect, it } from 'vitest';
import {
  bearingWords,
  gridBearing,
  legsOf,
  sketchWords,
  trueBearing,
} from '../../renderer/words/measures.ts';

describe('what a line measures', () => {
  it('bears clockwise from north, and true north from the convergence', () => {
    expect(
      [
        [0, 5],
        [5, 5],
        [5, 0],
        [0, -5],
        [-5, 0],
      ].map((to) => gridBearing([0, 0], to)),
    ).toEqual([0, 45, 90, 180, 270]);
    expect(gridBearing([3, 3], [3, 3])).toBeNaN();
    // PROJ 9.1.1 `proj -V` at 39.4236 N, 86.175 W in zone 16: meridian convergence 0.524 degrees. Grid north is
    // that far clockwise of true north east of the central meridian.
    expect(trueBearing([0, 0], [5, 5], 0.524)).toBeCloseTo(45.524, 9);
    expect(trueBearing([0, 0], [0, 5], -0.5)).toBeCloseTo(359.5, 9);
    expect(bearingWords(359.7)).toBe('0° true, north');
    expect(bearingWords(132.4)).toBe('132° true, southeast');
  });

  it('writes legs and a growing sketch in the units asked for', () => {
    const legs = legsOf(
      [
        [0, 0],
        [0, 91.44],
        [45.72, 91.44],
      ],
      0,
    );
    expect(legs.map(({ length, bearing }) => [length, bearing])).toEqual([
      [91.44, 0],
      [45.72, 90],
    ]);
    const leg = [
      [0, 0],
      [45.72, 0],
    ] as const;
    expect(sketchWords({ length: 137.16, area: 0, leg }, 'us', 0)).toBe(
      '150 yd; this leg 50 yd, 90° true, east',
    );
    expect(sketchWords({ length: 0, area: 20_000, leg: null }, 'metric', 0)).toBe('2.0 ha');
  });
});
