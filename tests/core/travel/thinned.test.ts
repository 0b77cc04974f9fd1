import { describe, expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import { travelAssumptions, weightsOf } from '../../../core/travel/assumptions.ts';
import { resistanceOf } from '../../../core/travel/resistance.ts';
import { thinned, thinning } from '../../../core/travel/thinned.ts';
import { box, feature, frameOf, runScene } from './scene.ts';

const scene = runScene(
  frameOf(62, 41, 5),
  (x, y) => (Math.sin(x / 23) * Math.cos(y / 31) > 0.1 ? COVER.open : COVER.deciduous),
  [feature('bedding', box(30, 30, 80, 80)), feature('food', box(220, 100, 280, 160))],
  { runs: 0 },
);
const assumptions = travelAssumptions({});
const given = { ...scene.inputs, ...scene, assumptions };

describe('thinned ground', () => {
  it('takes two cells a side of every wide one, where those can be told apart', () => {
    expect([1, 2, 3, 4, 5, 6, 8].map(thinning)).toEqual([1, 1, 1, 2, 1, 3, 4]);
  });

  it('is itself where nothing is left out', () => {
    expect(thinned(given, 1)).toBe(given);
  });

  it('has the resistance of the cells that were taken, and every area', () => {
    const ground = thinned(given, 2);
    expect(ground.resistance.frame).toMatchObject({ width: 31, height: 21, cellSize: 10 });
    const whole = resistanceOf(given, weightsOf(assumptions)).cells;
    for (let row = 0; row < 20; row++)
      for (let column = 0; column < 31; column++)
        expect(ground.resistance.cells[row * 31 + column]).toBe(whole[(2 * row + 1) * 62 + 2 * column + 1]);
    expect(new Set(ground.areas.cells)).toEqual(new Set(scene.areas.cells));
  });
});
