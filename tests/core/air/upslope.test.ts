import { expect, test } from 'vitest';
import { heatGround, heatLoss } from '../../../core/air/heat.ts';
import { slopeRun, upslopeSpeed, upslopeWind } from '../../../core/air/upslope.ts';
import { airFrame, groundOf, same } from './ground.ts';

test('the bulk balance of a warm slope, by hand', () => {
  // Pull (g/theta) x deficit x depth x sin = drag x speed^2, with deficit x depth x speed = heat / (rho cp) x distance.
  const heat = 120;
  const slope = Math.tan(Math.PI / 18);
  const speed = upslopeSpeed(heat, slope, 200, 0.01);
  const deficitDepth = ((heat / (1.23 * 1005)) * 200) / speed;
  const pull = (9.81 / 285) * deficitDepth * Math.sin(Math.PI / 18);
  expect(pull / ((0.01 + 0.1) * speed * speed)).toBeCloseTo(1, 9);
  // Observed winds up sunny slopes of hills are of the order of 1 m/s (common practice, no source).
  expect(speed).toBeGreaterThan(0.4);
  expect(speed).toBeLessThan(3);
  // Eight times the heat, twice the speed.
  expect(upslopeSpeed(8 * heat, slope, 200, 0.01) / speed).toBeCloseTo(2, 9);
  expect(upslopeSpeed(-5, slope, 200, 0.01)).toBe(0);
  expect(upslopeSpeed(heat, 0, 200, 0.01)).toBe(0);
});

test('air runs up the side the sun warms, straight uphill; not on the flat, not at night', () => {
  const frame = airFrame(40, 20, 25);
  // Level, then a slope that rises to the east from 400 m on, and faces west.
  const ground = groundOf(frame, (x) => Math.max(0, 0.2 * (x - 400)));
  const place = heatGround(ground, same(ground, 0));
  const run = slopeRun(place);
  expect(run[10 * 40 + 5]).toBe(0);
  // The run grows from the foot of the slope to its limit of 300 m.
  const at = (x: number) => 10 * 40 + Math.floor(x / 25);
  expect(Math.abs(run[at(510)]! - 112)).toBeLessThan(20);
  expect(run[at(900)]!).toBeCloseTo(300, 0);
  const drag = same(ground, 0.01);
  const sky = { sunHeight: 30, sunBearing: 270, cloud: 0, wind: 0 };
  const day = upslopeWind(place, run, drag, heatLoss(place, 50, sky));
  expect(day.east[at(900)]!).toBeGreaterThan(0.5);
  expect(Math.abs(day.south[at(900)]!)).toBeLessThan(1e-6);
  expect(day.east[at(100)]).toBe(0);
  // The morning sun in the east reaches this side less.
  const morning = upslopeWind(place, run, drag, heatLoss(place, 50, { ...sky, sunBearing: 90 }));
  expect(morning.east[at(900)]!).toBeLessThan(0.9 * day.east[at(900)]!);
  const night = upslopeWind(place, run, drag, heatLoss(place, 50, { ...sky, sunHeight: -10 }));
  expect(Math.max(...night.east)).toBe(0);
});
