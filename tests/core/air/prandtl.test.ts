import { expect, test } from 'vitest';
import { BUOYANCY } from '../../../core/air/bulk.ts';
import { slopeProfile } from '../../../core/air/prandtl.ts';
import { outside } from '../../outside.ts';

const slope = 12;
const lapse = 0.004;
const exchange = { momentum: 0.12, heat: 0.09 };
const sine = Math.sin((slope * Math.PI) / 180);
const profile = slopeProfile(5, slope, lapse, exchange);

test("Prandtl's two equations hold at every height (central differences)", () => {
  // Km u'' + (g/theta) deficit sin = 0 and Kh deficit'' - lapse u sin = 0, with the deficit positive when colder.
  const h = 1e-3;
  const check = outside({
    room: 'air',
    method: 'Wind and deficit over a slope at seven heights',
    source: 'Prandtl’s two equations, by central differences',
    unit: 'of their largest term',
    allowed: 1e-3,
  });
  for (const n of [0.5, 1, 2, 4, 7, 11, 18]) {
    const second = (f: (height: number) => number) => (f(n + h) - 2 * f(n) + f(n - h)) / (h * h);
    const momentum = exchange.momentum * second(profile.speed) + BUOYANCY * profile.deficit(n) * sine;
    const heat = exchange.heat * second(profile.deficit) - lapse * profile.speed(n) * sine;
    check.compare(momentum, 0, BUOYANCY * 5 * sine);
    check.compare(heat, 0, lapse * profile.speed(profile.jetHeight) * sine);
  }
  check.done();
});

test('no wind on the ground, the whole deficit there, the jet where the slope of the speed is nought', () => {
  expect(profile.speed(0)).toBe(0);
  expect(profile.deficit(0)).toBe(5);
  const { jetHeight } = profile;
  expect(profile.speed(jetHeight)).toBeGreaterThan(profile.speed(jetHeight * 0.98));
  expect(profile.speed(jetHeight)).toBeGreaterThan(profile.speed(jetHeight * 1.02));
  expect(jetHeight).toBeGreaterThan(1);
  expect(jetHeight).toBeLessThan(40);
});

test('the jet is as strong on a gentle slope as on a steep one, and higher', () => {
  const gentle = slopeProfile(5, 4, lapse, exchange);
  expect(gentle.speed(gentle.jetHeight)).toBeCloseTo(profile.speed(profile.jetHeight), 9);
  expect(gentle.jetHeight).toBeGreaterThan(profile.jetHeight);
});
