import { describe, expect, test } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import { seededRandom } from '../../../core/grid/random.ts';
import { cameraPlaces, daysToTell } from '../../../core/stands/camera.ts';
import { travelAssumptions } from '../../../core/travel/assumptions.ts';
import { box, feature, frameOf, line, point, runScene } from '../travel/scene.ts';

describe('how long a camera runs', () => {
  /** A Poisson count (Knuth, The Art of Computer Programming 2, 3.4.1). */
  const count = (mean: number, random: () => number): number => {
    let k = 0;
    for (let product = random(); product > Math.exp(-mean); product *= random()) k++;
    return k;
  };
  test('after that many days counts at the two rates are mistaken for one another about as seldom as was meant', () => {
    const [low, high, passings] = [0.05, 0.15, 30];
    const days = daysToTell(low, high, passings);
    const random = seededRandom(7);
    const middle = ((Math.sqrt(low * passings * days) + Math.sqrt(high * passings * days)) / 2) ** 2;
    let wrong = 0;
    const tries = 4000;
    for (let k = 0; k < tries; k++) {
      if (count(low * passings * days, random) > middle) wrong++;
      if (count(high * passings * days, random) < middle) wrong++;
    }
    // The roots lie 1.96 apart and spread by a half each, so half of that is 1.96 deviations: 2.5% beyond it.
    expect(wrong / (2 * tries)).toBeGreaterThan(0.01);
    expect(wrong / (2 * tries)).toBeLessThan(0.05);
  });
  test('what does not differ is never told apart, and twice the deer take half the days', () => {
    expect(daysToTell(0.1, 0.1, 30)).toBe(Number.POSITIVE_INFINITY);
    expect(daysToTell(0.05, 0.15, 60)).toBeCloseTo(daysToTell(0.05, 0.15, 30) / 2, 12);
  });
});

describe('where a camera goes', () => {
  // Bedding and food with a fence across between them; a low place in it. How much deer mind the fence decides who goes round.
  const frame = frameOf(100, 80, 5);
  const features = [
    feature('boundary', box(0, 0, 320, 400), {}),
    feature('bedding', box(20, 150, 80, 250)),
    feature('food', box(420, 150, 480, 250)),
    feature('fence', line([250, 120], [250, 400]), { height: 1.4 }),
    feature('stand', point(230, 80), {}),
  ];
  const scene = runScene(frame, () => COVER.deciduous, features, { runs: 0 });
  const inputs = {
    ...scene.inputs,
    ...scene,
    assumptions: travelAssumptions({}),
    features,
  };
  const found = cameraPlaces(inputs, { seed: 1, units: 'metric', runs: 6 });

  test('stands on the client’s own ground near a stand, neck or junction, apart, where plausible weights differ', () => {
    expect(found.places.length).toBeGreaterThan(0);
    for (const { at, spread, near, days, share } of found.places) {
      expect(at[0]).toBeLessThan(320);
      expect(near.distance).toBeLessThanOrEqual(120);
      expect(spread.high - spread.low).toBeGreaterThan(0.02);
      expect(share).toBeGreaterThanOrEqual(0);
      expect(days).toBeGreaterThanOrEqual(7);
    }
    const [first, second] = found.places;
    if (second)
      expect(first!.spread.high - first!.spread.low).toBeGreaterThanOrEqual(
        second.spread.high - second.spread.low,
      );
    expect(found.doubts.join(' ')).toMatch(/our assumption.*second camera/s);
  });
  test('is the same for the same seed, and without runs nothing is in doubt', () => {
    expect(cameraPlaces(inputs, { seed: 1, units: 'metric', runs: 6 })).toEqual(found);
    const none = cameraPlaces(inputs, { seed: 1, units: 'metric', runs: 0 });
    expect(none.places).toEqual([]);
    expect(none.sentences[0]).toMatch(/Nowhere/);
  });
});
