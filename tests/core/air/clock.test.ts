import { expect, test } from 'vitest';
import { airClock, cloudAt } from '../../../core/air/clock.ts';
import {
  clearSun,
  heatGround,
  heatLoss,
  leftByWind,
  lossUnderCloud,
  throughCloud,
} from '../../../core/air/heat.ts';
import { sunriseSunset } from '../../../core/air/sun.ts';
import { outside } from '../../outside.ts';
import { airFrame, groundOf } from './ground.ts';

const noon = Date.parse('2022-11-05T17:00:00Z') / 3_600_000;
// A valley that runs south: its west side faces the morning sun.
const frame = airFrame(60, 40, 25);
const valley = groundOf(frame, (x, y) => 300 - 0.05 * y + 0.3 * Math.abs(x - 750));
const cover = { frame, cells: new Uint8Array(2400).fill(1) };
const bare = { frame, cells: new Float32Array(2400) };
const clear = airClock(valley, cover, bare, noon, 50, () => ({ wind: 0, cloud: 0 }));
const cell = (x: number, y: number) => {
  const { frame: f } = clear.ground;
  return Math.floor(y / f.cellSize) * f.width + Math.floor(x / f.cellSize);
};
const sun = sunriseSunset(noon + 12, frame.longitude, frame.latitude)!;
const nextRise = sunriseSunset(noon + 24, frame.longitude, frame.latitude)!.rise;

test('air drains from about sunset until some time after sunrise', () => {
  const west = cell(350, 500);
  const east = cell(1150, 500);
  for (const spot of [west, east]) {
    expect(clear.turns.drainageBegins[spot]!).toBeGreaterThan(sun.set - 3);
    expect(clear.turns.drainageBegins[spot]!).toBeLessThan(sun.set + 1.5);
    expect(clear.turns.drainageEnds[spot]!).toBeGreaterThan(nextRise);
    expect(clear.turns.drainageEnds[spot]!).toBeLessThan(nextRise + 5);
  }
});

test('the slope that faces the morning sun turns first, the one that loses the evening sun begins first', () => {
  const west = cell(350, 500); // rises to the west, faces east
  const east = cell(1150, 500); // faces west
  expect(clear.turns.drainageEnds[west]!).toBeLessThan(clear.turns.drainageEnds[east]! - 0.3);
  expect(clear.turns.drainageBegins[west]!).toBeLessThan(clear.turns.drainageBegins[east]! - 0.3);
});

test('the sun reaches one side first, which runs uphill first and stops first', () => {
  const west = cell(350, 500); // rises to the west, faces the morning sun
  const east = cell(1150, 500);
  const { sunReaches, sunLeaves, upslopeBegins, upslopeEnds, drainageEnds, drainageBegins } = clear.turns;
  expect(sunReaches[west]!).toBeLessThan(sunReaches[east]! - 0.3);
  expect(upslopeBegins[west]!).toBeLessThan(upslopeBegins[east]! - 0.3);
  // Slope by slope: the air stops draining, then runs up, after the sun has come.
  for (const spot of [west, east]) {
    expect(upslopeBegins[spot]!).toBeGreaterThan(sunReaches[spot]!);
    expect(upslopeBegins[spot]!).toBeGreaterThanOrEqual(drainageEnds[spot]!);
  }
  // In the afternoon the side that faces east loses the sun before sunset and turns back before it.
  expect(sunLeaves[west]!).toBeLessThan(sun.set);
  expect(Number.isNaN(upslopeEnds[west]!) || upslopeEnds[west]! < drainageBegins[west]!).toBe(true);
  expect(drainageBegins[west]!).toBeLessThan(sun.set);
  expect(upslopeEnds[east]!).toBeLessThan(drainageBegins[east]!);
  // By noon the air climbs both sides: towards west on one, towards east on the other.
  const midday = clear.hours.find(({ solar }) => Math.abs(solar - 12) < 0.6)!;
  expect(midday.upEast[west]!).toBeLessThan(-0.2);
  expect(midday.upEast[east]!).toBeGreaterThan(0.2);
});

test('at midnight air runs down both sides and along the bottom; at noon it does not', () => {
  const midnight = clear.hours.find(({ solar }) => Math.abs(solar - 0) < 0.6 || Math.abs(solar - 24) < 0.6)!;
  expect(midnight.east[cell(350, 500)]!).toBeGreaterThan(0.1);
  expect(midnight.east[cell(1150, 500)]!).toBeLessThan(-0.1);
  expect(midnight.south[cell(750, 700)]!).toBeGreaterThan(0.1);
  const last = clear.hours.at(-1)!;
  expect(last.solar).toBeGreaterThan(11.5);
  expect(Math.max(...last.deficit)).toBe(0);
  expect(Math.max(...last.depth)).toBe(0);
});

test('at dawn in clear calm weather air runs down the draw (common practice, no source)', () => {
  // The last look before sunrise.
  const dawn = clear.hours.filter(({ hours }) => hours < nextRise).at(-1)!;
  expect(nextRise - dawn.hours).toBeLessThan(1);
  for (const y of [300, 500, 700]) {
    const bottom = cell(750, y);
    expect(dawn.south[bottom]!).toBeGreaterThan(0.2);
    expect(Math.abs(dawn.east[bottom]!)).toBeLessThan(0.5 * dawn.south[bottom]!);
    // Deeper along the bottom than on the sides, and down the sides into it.
    expect(dawn.depth[bottom]!).toBeGreaterThan(dawn.depth[cell(350, y)]!);
    expect(dawn.east[cell(350, y)]!).toBeGreaterThan(0.1);
    expect(dawn.east[cell(1150, y)]!).toBeLessThan(-0.1);
  }
});

test('the ground has lost nothing by the afternoon, more hour by hour through the night, and gains it back by day', () => {
  const lost = clear.hours.map(({ chilled }) => chilled);
  const rise = clear.hours.findIndex(({ hours }) => hours > nextRise);
  expect(lost[0]).toBe(0);
  const night = lost.slice(4, rise);
  for (let k = 1; k < night.length; k++) expect(night[k]!).toBeGreaterThan(night[k - 1]!);
  // 50 W/m2 of open ground that sees less than the whole sky.
  const hour = (night.at(-1)! - night[0]!) / (night.length - 1) / 3600;
  expect(hour).toBeLessThan(50);
  expect(hour).toBeGreaterThan(40);
  expect(lost.at(-1)).toBe(0);
});

test('cloud and wind weaken the drainage, and enough wind ends it', () => {
  const midnight = (weather: { wind: number; cloud: number }) =>
    airClock(valley, cover, bare, noon, 50, () => weather).hours[8]!;
  const speed = (hour: ReturnType<typeof midnight>) => hour.south[cell(750, 700)]!;
  const still = clear.hours[8]!;
  expect(speed(midnight({ wind: 0, cloud: 1 }))).toBeLessThan(0.85 * speed(still));
  expect(speed(midnight({ wind: 3, cloud: 0 }))).toBeLessThan(0.95 * speed(still));
  expect(Math.max(...midnight({ wind: 5, cloud: 0 }).depth)).toBeLessThan(0.1);
});

test('published parts of the heat balance', () => {
  // Holtslag & van Ulden (1983): 990 sin(h) - 30. Kasten & Czeplak (1980): a quarter of the sun comes through full cloud.
  const check = outside({
    room: 'air',
    method: 'Clear sun by its height',
    source: 'Holtslag & van Ulden 1983',
    unit: 'W/m²',
    allowed: 1e-9,
  });
  check.compare(clearSun(90), 960);
  check.compare(clearSun(30), 465);
  check.done();
  expect(clearSun(-5)).toBe(0);
  expect(throughCloud(1)).toBeCloseTo(0.25, 9);
  expect(throughCloud(0)).toBe(1);
  expect(lossUnderCloud(0)).toBe(1);
  expect(leftByWind(0)).toBe(1);
  expect(leftByWind(9)).toBe(0);
});

test('sun on slopes: one that stands square to the sun gets its share, one in shadow only the sky', () => {
  const slope = groundOf(airFrame(20, 20, 25), (x) => -Math.tan(Math.PI / 6) * x);
  const place = heatGround(slope, new Float32Array(400));
  const sky = { sunHeight: 60, sunBearing: 90, cloud: 0, wind: 0 };
  const facing = heatLoss(place, 0, sky)[210]!;
  // Square to it: the beam over sin(60), of 80%, and 20% from the sky; 40% warms the air.
  const level = clearSun(60);
  expect(facing / (-0.4 * level * (0.8 / Math.sin(Math.PI / 3) + 0.2))).toBeCloseTo(1, 3);
  const away = heatLoss(place, 0, { ...sky, sunBearing: 270, sunHeight: 25 })[210]!;
  expect(away / (-0.4 * clearSun(25) * 0.2)).toBeCloseTo(1, 3);
  // Level open ground sees the whole sky, the bottom of a pit does not.
  const flat = heatGround(
    groundOf(airFrame(40, 40, 25), () => 5),
    new Float32Array(1600),
  );
  expect(flat.skyView[20 * 40 + 20]).toBeCloseTo(1, 5);
  const pit = heatGround(
    groundOf(airFrame(41, 41, 25), (x, y) => 0.5 * Math.hypot(x - 512.5, y - 512.5)),
    new Float32Array(1681),
  );
  // All round the horizon stands atan(0.5) high: cos^2 of it is 0.8.
  expect(pit.skyView[20 * 41 + 20]!).toBeGreaterThan(0.77);
  expect(pit.skyView[20 * 41 + 20]!).toBeLessThan(0.83);
});

test('cloud by hour: each hour takes its own in standard time, and a sky that closes at midnight ends the drainage', () => {
  const hourly = Array.from({ length: 24 }, (_, hour) => hour / 100);
  // 82 degrees west: five hours behind.
  expect(cloudAt(hourly, Date.parse('2022-11-05T17:30:00Z') / 3_600_000, -82)).toBe(0.12);
  expect(cloudAt(hourly, Date.parse('2022-11-06T03:00:00Z') / 3_600_000, -82)).toBe(0.22);
  expect(cloudAt(0.4, 3, -82)).toBe(0.4);
  const closing = Array.from({ length: 24 }, (_, hour) => (hour < 12 ? 1 : 0));
  const { hours } = airClock(valley, cover, bare, noon, 50, (at) => ({
    wind: 0,
    cloud: cloudAt(closing, at, frame.longitude),
  }));
  const speed = (at: (typeof hours)[number]) => at.south[cell(750, 700)]!;
  // As on the clear night until midnight, weaker before dawn.
  expect(speed(hours[6]!)).toBeCloseTo(speed(clear.hours[6]!), 9);
  expect(speed(hours[13]!)).toBeLessThan(0.85 * speed(clear.hours[13]!));
});
