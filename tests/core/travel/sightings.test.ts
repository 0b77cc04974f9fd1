import { describe, expect, it } from 'vitest';
import { cellCentre } from '../../../core/grid/frame.ts';
import { scoreSightings, sightingsOf } from '../../../core/travel/sightings.ts';
import { box, feature, frameOf, gridOf, point } from './scene.ts';

const frame = frameOf(20, 20, 5);
/** Passage rises from west to east: 20 columns of equal cells. */
const passage = gridOf(frame, (x) => x / 100);
const at = (column: number, row: number) => ({ at: cellCentre(frame, row * 20 + column), count: 1 });

describe('sightings against passage', () => {
  it('give the area under the curve of a rank-sum by hand', () => {
    // Columns 19, 19, 14 of 20: shares below plus half the ties are 0.975, 0.975 and 0.725.
    const score = scoreSightings(passage, [at(19, 2), at(19, 9), at(14, 5)]);
    expect(score.areaUnderCurve).toBeCloseTo((0.975 + 0.975 + 0.725) / 3, 9);
    expect(score.inTopTenth).toBeCloseTo(2 / 3, 9);
    expect(score.verdict).toContain('Too few to say');
  });

  it('count repeated sightings by their number', () => {
    const twice = scoreSightings(passage, [{ ...at(19, 2), count: 3 }, at(0, 0)]);
    expect(twice.areaUnderCurve).toBeCloseTo((3 * 0.975 + 0.025) / 4, 9);
  });

  it('tell sign that follows the flow from sign that does not', () => {
    const along = Array.from({ length: 20 }, (_, k) => at(15 + (k % 5), k));
    const anywhere = Array.from({ length: 20 }, (_, k) => at((k * 7) % 20, k));
    expect(scoreSightings(passage, along).byLuck).toBeLessThan(0.01);
    expect(scoreSightings(passage, along).verdict).toContain('far better');
    expect(scoreSightings(passage, anywhere).areaUnderCurve).toBeCloseTo(0.5, 1);
    expect(scoreSightings(passage, anywhere).verdict).toContain('no better than luck');
  });

  it('leave out what lies off the map or where nothing is known', () => {
    const holed = gridOf(frame, (x) => (x < 50 ? Number.NaN : x));
    const score = scoreSightings(holed, [at(2, 2), at(15, 2), { at: [-100, 0], count: 1 }]);
    expect(score.seen).toBe(1);
    expect(scoreSightings(holed, []).verdict).toContain('None');
  });

  it('are the features of that kind, with their counts', () => {
    const drawn = [
      feature('sighting', point(5, 6), { count: 4 }),
      feature('sighting', point(7, 8)),
      feature('bedding', box(0, 0, 9, 9)),
    ];
    expect(sightingsOf(drawn)).toEqual([
      { at: [5, 6], count: 4 },
      { at: [7, 8], count: 1 },
    ]);
  });
});
