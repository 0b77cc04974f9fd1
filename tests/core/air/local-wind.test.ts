import { expect, test } from 'vitest';
import { canopyForAir } from '../../../core/air/canopy.ts';
import { localWind, windGround } from '../../../core/air/local-wind.ts';
import { adjustWind, massSystem, netOutflow } from '../../../core/air/mass-adjust.ts';
import { meshOver } from '../../../core/air/mass-mesh.ts';
import { upwindSlope } from '../../../core/air/shelter.ts';
import { COVER } from '../../../core/cover/types.ts';
import { outside } from '../../outside.ts';
import { airFrame, groundOf, same, total } from './ground.ts';

test.each([
  [10, 200],
  [20, 200],
  [15, 300],
])('uniform inflow over a bell ridge of %i m and half-width %i m speeds up by h/L', (h, length) => {
  // Potential flow over h / (1 + (x/L)^2), to first order in h/L (e.g. Jackson & Hunt 1975 for the inviscid outer flow).
  const frame = airFrame(200, 1, 20);
  const ground = groundOf(frame, (x) => h / (1 + ((x - 2000) / length) ** 2));
  const levels = 24;
  const mesh = meshOver(ground, levels, 1600, 4);
  const boxes = 200 * levels;
  const wind = {
    east: new Float32Array(boxes).fill(10),
    south: new Float32Array(boxes),
    up: new Float32Array(boxes),
  };
  const left = adjustWind(massSystem(mesh), wind);
  expect(left).toBeLessThan(1e-3);
  const crest = Math.max(wind.east[99 * levels]!, wind.east[100 * levels]!);
  const check = outside({
    room: 'air',
    method: 'Wind over the crest of a bell ridge',
    source: 'potential flow to first order (Jackson & Hunt 1975)',
    unit: 'of the speed-up',
    allowed: 0.05,
  });
  check.compare((crest / 10 - 1) / (h / length), 1);
  check.done();
  // And at the surface it follows the ground: up on the way up, down on the way down.
  expect(wind.up[90 * levels]!).toBeGreaterThan(0.02 * h);
  expect(wind.up[109 * levels]!).toBeLessThan(-0.02 * h);
});

test('uniform inflow over a round hill: the first-order potential flow at the crest, beside it and before it', () => {
  // For H / (1 + r2/L2)^(3/2) the potential is that of a dipole at depth L: by hand,
  // u'/U = H L2 (1/R3 - 3 x2/R5) with R2 = x2 + y2 + (L + z)2, z half of the lowest box.
  const h = 6;
  const length = 200;
  const side = 48;
  const frame = airFrame(side, side, 25);
  const middle = (side * 25) / 2 - 12.5;
  const ground = groundOf(
    frame,
    (x, y) => h / (1 + ((x - middle) ** 2 + (y - middle) ** 2) / length ** 2) ** 1.5,
  );
  const levels = 16;
  const boxes = side * side * levels;
  const wind = {
    east: new Float32Array(boxes).fill(10),
    south: new Float32Array(boxes),
    up: new Float32Array(boxes),
  };
  adjustWind(massSystem(meshOver(ground, levels, 800, 5)), wind);
  const speedUp = (cellsEast: number, cellsSouth: number) => {
    const cell = (side / 2 - 1 + cellsSouth) * side + side / 2 - 1 + cellsEast;
    return (wind.east[cell * levels]! / 10 - 1) / (h / length);
  };
  const firstOrder = (x: number, y: number) => {
    const r2 = x * x + y * y + (length + 2.5) ** 2;
    return length ** 3 * (r2 ** -1.5 - 3 * x * x * r2 ** -2.5);
  };
  const check = outside({
    room: 'air',
    method: 'Wind at the crest of a round hill, beside it and before it',
    source: 'potential flow to first order, a dipole, by hand',
    unit: 'of h/L',
    allowed: 0.05,
  });
  check.compare(speedUp(0, 0), firstOrder(0, 0));
  check.compare(speedUp(0, 8), firstOrder(0, 200));
  check.compare(speedUp(-8, 0), firstOrder(-200, 0));
  check.done();
});

/** Hills, draws and blocks of timber, none of them gentle. */
function brokenGround() {
  const frame = airFrame(70, 60, 10);
  const elevation = groundOf(
    frame,
    (x, y) => 25 * Math.sin(x / 70) * Math.cos(y / 55) + 12 * Math.sin((x + 2 * y) / 45) + 0.04 * y,
  );
  const canopy = groundOf(frame, (x, y) => (Math.sin(x / 60 + 1) * Math.sin(y / 80) > 0.1 ? 1 : 0));
  return { elevation, canopy };
}

test.each([270, 10, 155])('on broken, half timbered ground no wind from %i turns against itself', (from) => {
  // A speed times the gradient of a potential has no closed streamlines; over slopes like these it never turns back.
  const { elevation, canopy } = brokenGround();
  const place = windGround(elevation, canopy);
  const { field } = localWind(place, from, 4);
  const bearing = (from * Math.PI) / 180;
  for (let i = 0; i < field.east.length; i++)
    expect(-field.east[i]! * Math.sin(bearing) + field.south[i]! * Math.cos(bearing)).toBeGreaterThan(0);
  // Where the ground or the timber falls away steeply it says that the direction is not known.
  const eddying = field.eddies.reduce((sum, each) => sum + each, 0) / field.eddies.length;
  expect(eddying).toBeGreaterThan(0.02);
  expect(eddying).toBeLessThan(0.7);
});

test('with one weight for fast and slow air the wind aloft would turn the air in the timber round', () => {
  // Why the weights follow the speed: the same sheared wind over a ridge, half of it below crowns.
  const frame = airFrame(80, 1, 20);
  const ground = groundOf(frame, (x) => 60 / (1 + ((x - 800) / 120) ** 2));
  const levels = 12;
  const mesh = meshOver(ground, levels, 500, 6);
  const shares = new Float32Array(80 * levels).map((_, box) => (box % levels < 3 ? 0.05 : 1.2));
  const least = (freedom: Float32Array | null) => {
    const wind = {
      east: shares.map((share) => 5 * share),
      south: new Float32Array(shares.length),
      up: new Float32Array(shares.length),
    };
    expect(adjustWind(massSystem(mesh), wind, freedom)).toBeLessThan(1e-3);
    return Math.min(...wind.east.filter((_, box) => box % levels === 0));
  };
  expect(least(null)).toBeLessThan(0);
  expect(least(shares)).toBeGreaterThan(0);
});

test("air is neither made nor lost: the divergence left is a sliver of the first guess's", () => {
  const frame = airFrame(24, 20, 25);
  const ground = groundOf(frame, (x, y) => 30 * Math.sin(x / 90) * Math.cos(y / 70) + 0.05 * x);
  const levels = 10;
  const mesh = meshOver(ground, levels, 300, 6);
  const system = massSystem(mesh);
  const boxes = 24 * 20 * levels;
  const wind = {
    east: new Float32Array(boxes).map((_, i) => 3 + ((i * 7919) % 13) / 8),
    south: new Float32Array(boxes).fill(-1.5),
    up: new Float32Array(boxes),
  };
  const made = () => Math.sqrt(total(netOutflow(system, wind).map((lost) => lost * lost)));
  const before = made();
  const left = adjustWind(system, wind);
  expect(before).toBeGreaterThan(1000);
  const check = outside({
    room: 'air',
    method: 'Divergence left in the adjusted wind over broken ground',
    source: 'Sherman 1978: none',
    unit: 'of that of the first guess',
    allowed: 1.1e-3,
  });
  check.compare(made() / before, 0);
  check.done();
  expect(left).toBeLessThan(1e-3);
});

test('uniform wind over level ground is left as it is', () => {
  const frame = airFrame(12, 10, 25);
  const mesh = meshOver(
    groundOf(frame, () => 50),
    8,
    200,
    5,
  );
  const wind = {
    east: new Float32Array(960).fill(3),
    south: new Float32Array(960).fill(2),
    up: new Float32Array(960),
  };
  adjustWind(massSystem(mesh), wind);
  expect(Math.max(...wind.east.map((u) => Math.abs(u - 3)))).toBeLessThan(1e-4);
  expect(Math.max(...wind.south.map((v) => Math.abs(v - 2)))).toBeLessThan(1e-4);
});

test('in stable air the wind goes more round a hill and less over it', () => {
  const frame = airFrame(40, 40, 25);
  const hill = groundOf(frame, (x, y) => 80 * Math.exp(-(((x - 500) / 120) ** 2) - ((y - 500) / 120) ** 2));
  const rise = (freedom: number) => {
    const mesh = meshOver(hill, 12, 400, 6);
    const boxes = 1600 * 12;
    const wind = {
      east: new Float32Array(boxes).fill(5),
      south: new Float32Array(boxes),
      up: new Float32Array(boxes),
    };
    adjustWind(massSystem(mesh, freedom), wind);
    return { over: wind.up[(20 * 40 + 16) * 12 + 4]!, round: Math.abs(wind.south[(16 * 40 + 17) * 12]!) };
  };
  expect(rise(0.2).over).toBeLessThan(0.8 * rise(1).over);
  expect(rise(0.2).round).toBeGreaterThan(rise(1).round);
});

test('upwind slope of a wall: closed form, only on its lee side and within reach', () => {
  const frame = airFrame(100, 3, 10);
  const wall = groundOf(frame, (x) => (x > 300 && x < 320 ? 20 : 0));
  const west = upwindSlope(wall, 270, 300).cells;
  const at = (x: number) => 100 + Math.floor(x / 10);
  // The wall's near cell centre stands at 315 m.
  expect(west[at(415)]!).toBeCloseTo((Math.atan(20 / 100) * 180) / Math.PI, 4);
  expect(west[at(515)]!).toBeCloseTo((Math.atan(20 / 200) * 180) / Math.PI, 4);
  expect(west[at(645)]!).toBeCloseTo(0, 6);
  expect(west[at(205)]!).toBeCloseTo(0, 6);
  const east = upwindSlope(wall, 90, 300).cells;
  expect(east[at(205)]!).toBeCloseTo((Math.atan(20 / 100) * 180) / Math.PI, 4);
  expect(west[100]).toBeNaN();
});

test('a plane tilted into the wind is exposed by its own angle', () => {
  const frame = airFrame(40, 40, 10);
  const plane = groundOf(frame, (x) => 0.2 * x);
  expect(upwindSlope(plane, 270, 200).cells[20 * 40 + 30]!).toBeCloseTo((-Math.atan(0.2) * 180) / Math.PI, 3);
  expect(upwindSlope(plane, 90, 200).cells[20 * 40 + 10]!).toBeCloseTo((Math.atan(0.2) * 180) / Math.PI, 3);
});

test('a ridge is windier than its lee, timber calmer than the field, and the field edge eddies', () => {
  const frame = airFrame(150, 60, 10);
  const elevation = groundOf(frame, (x) => 40 * Math.exp(-(((x - 500) / 110) ** 2)));
  const canopy = groundOf(frame, (x) => (x > 1000 && x < 1200 ? 1 : 0));
  const place = windGround(elevation, canopy);
  const { field, divergence } = localWind(place, 270, 4);
  const { eddies } = field;
  expect(divergence).toBeLessThan(1e-3);
  const at = (x: number) =>
    Math.floor(300 / place.frame.cellSize) * place.frame.width + Math.floor(x / place.frame.cellSize);
  expect(field.east[at(500)]!).toBeGreaterThan(1.2 * field.east[at(900)]!);
  expect(field.east[at(640)]!).toBeLessThan(field.east[at(300)]!);
  expect(field.east[at(1100)]!).toBeLessThan(0.7 * field.east[at(900)]!);
  expect(eddies[at(1230)]).toBe(1);
  expect(eddies[at(900)]).toBe(0);
  // Twice the wind, twice the field.
  const twice = localWind(place, 270, 8).field;
  expect(twice.east[at(500)]! / field.east[at(500)]!).toBeCloseTo(2, 3);
});

test('a wind that blows slantwise over a draw is turned along it at the bottom, more so in stable air', () => {
  const frame = airFrame(60, 60, 20);
  // It runs north and south along the middle, 60 m deep.
  const draw = groundOf(frame, (x) => 60 * (1 - Math.exp(-(((x - 600) / 80) ** 2))));
  const bare = { frame, cells: same(draw, 0) };
  const turned = (stable: boolean) => {
    const place = windGround(draw, bare, stable);
    const { field } = localWind(place, 225, 5);
    const towards = (x: number) => {
      const i =
        Math.floor(600 / place.frame.cellSize) * place.frame.width + Math.floor(x / place.frame.cellSize);
      return (Math.atan2(field.east[i]!, -field.south[i]!) * 180) / Math.PI;
    };
    // Over the flat beside it the wind keeps its way.
    expect(Math.abs(towards(200) - 45)).toBeLessThan(2);
    return 45 - towards(600);
  };
  const neutral = turned(false);
  expect(neutral).toBeGreaterThan(15);
  expect(turned(true)).toBeGreaterThan(neutral + 5);
});

test('unknown canopy is taken from the class, known canopy is kept', () => {
  const frame = airFrame(4, 1, 10);
  const canopy = { frame, cells: Float32Array.of(Number.NaN, Number.NaN, 0.4, Number.NaN) };
  const cover = { frame, cells: Uint8Array.of(COVER.deciduous, COVER.open, COVER.deciduous, 0) };
  expect([...canopyForAir(canopy, cover).cells]).toEqual([Math.fround(0.7), 0, Math.fround(0.4), 0]);
});
