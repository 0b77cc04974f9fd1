import { expect, test } from 'vitest';
import { AIR_HEAT, BUOYANCY, DRAG as DRAG_OF, entrainment } from '../../../core/air/bulk.ts';
import { emptyLayer, layerWind, runLayer } from '../../../core/air/shallow.ts';
import { COVER } from '../../../core/cover/types.ts';
import { outside } from '../../outside.ts';
import { airFrame, groundOf, same, total } from './ground.ts';

const DRAG = 0.01;
const COOLING = 50;

test.each([0.1, 0.3, 0.5])('even slope of %d: the closed form of the bulk equations', (slope) => {
  // Manins & Sawford (1979) reduced to an even slope under neutral air: the heat carried is all that was lost uphill,
  // U = (g/theta H sin / (drag + E))^(1/3) and depth = 3/4 E x.
  const frame = airFrame(60, 1, 25);
  const ground = groundOf(frame, (x) => 1000 - slope * x);
  const layer = emptyLayer(60);
  runLayer(layer, ground, same(ground, COOLING), same(ground, DRAG), 4 * 3600, { radiativeReturn: 0 });
  const e = entrainment(slope);
  const check = outside({
    room: 'air',
    method: 'Heat carried, speed and depth of the air down an even slope',
    source: 'Manins & Sawford 1979, closed form',
    unit: 'of the value',
    allowed: 0.06,
  });
  for (const column of [25, 40, 55]) {
    const x = (column + 1) * 25;
    const heat = (COOLING * x) / AIR_HEAT;
    const depth = layer.depth[column]!;
    const flow = layer.eastFlow[column]!;
    const carried = (flow * layer.deficit[column]!) / depth / heat;
    expect(carried).toBeCloseTo(1, 3);
    check.compare(carried, 1);
    const speed = Math.cbrt((BUOYANCY * heat * slope) / (DRAG + e));
    expect(Math.abs(flow / depth / speed - 1)).toBeLessThan(0.04);
    expect(Math.abs(flow / depth / speed - 1)).toBeLessThan(0.04);
    check.compare(flow / depth / speed, 1);
    check.compare(depth / (0.75 * e * (column + 0.5) * 25), 1);
  }
  check.done();
});

test('on slopes as observed the depth is about a twentieth of the drop', () => {
  // Horst & Doran, "Nocturnal drainage flow on simple slopes", Boundary-Layer Meteorology 34 (1986): "the depth of
  // slope flow is found to be roughly 0.05 times the vertical drop from the top of the slope".
  for (const slope of [0.2, 0.3, 0.4]) {
    const frame = airFrame(50, 1, 25);
    const ground = groundOf(frame, (x) => 1000 - slope * x);
    const layer = emptyLayer(50);
    runLayer(layer, ground, same(ground, COOLING), same(ground, DRAG), 3 * 3600);
    const share = layer.depth[40]! / (slope * 40.5 * 25);
    expect(share).toBeGreaterThan(0.035);
    expect(share).toBeLessThan(0.075);
  }
});

test('air and heat are conserved over rough ground with a hole of no data', () => {
  const frame = airFrame(40, 36, 25);
  const ground = groundOf(
    frame,
    (x, y) => 300 + 0.05 * x + 25 * Math.sin(x / 130) * Math.cos(y / 170) + 10 * Math.sin((x + 2 * y) / 90),
  );
  for (const i of [500, 501, 540, 541]) ground.cells[i] = Number.NaN;
  const layer = emptyLayer(40 * 36);
  for (let k = 0; k < 4; k++) runLayer(layer, ground, same(ground, COOLING), same(ground, 0.03), 1800);
  const held = total(layer.depth) * 625;
  expect(layer.drawnIn).toBeGreaterThan(1e6);
  expect(layer.airOut).toBeGreaterThan(1e5);
  expect(Math.abs(layer.drawnIn - layer.airOut - held) / layer.drawnIn).toBeLessThan(1e-12);
  const cold = total(layer.deficit) * 625 * AIR_HEAT;
  expect(Math.abs(layer.heatLost - layer.heatOut - cold) / layer.heatLost).toBeLessThan(1e-12);
  expect(layer.time).toBeCloseTo(7200, 6);
});

test('a closed basin fills to its sill and spills, and no further', () => {
  // A bowl 20 m deep on a plateau that slopes away outside its rim: what stands above the sill is only the sheet
  // that flows over it.
  const frame = airFrame(41, 41, 25);
  const middle = 41 * 12.5;
  const bowl = (x: number, y: number) => {
    const r = Math.hypot(x - middle, y - middle);
    return r < 300 ? 100 + 20 * (r / 300) ** 2 : 120 - 0.15 * (r - 300);
  };
  const ground = groundOf(frame, bowl);
  const layer = emptyLayer(41 * 41);
  const centre = 20 * 41 + 20;
  const tops: number[] = [];
  for (let hour = 1; hour <= 8; hour++) {
    runLayer(layer, ground, same(ground, COOLING), same(ground, 0.02), 3600);
    tops.push(ground.cells[centre]! + layer.depth[centre]!);
  }
  expect(tops[0]!).toBeLessThan(tops[4]!);
  expect(tops.at(-1)!).toBeGreaterThan(119);
  expect(tops.at(-1)!).toBeLessThan(121);
  expect(Math.abs(tops.at(-1)! - tops.at(-4)!)).toBeLessThan(0.05);
  // The still surface is level: the whole lake of cold air has one top.
  const inside = [...ground.cells.keys()].filter((i) => ground.cells[i]! < 112);
  const levels = inside
    .filter((i) => Math.hypot((i % 41) - 20, Math.floor(i / 41) - 20) < 8)
    .map((i) => ground.cells[i]! + layer.depth[i]!);
  expect(Math.max(...levels) - Math.min(...levels)).toBeLessThan(0.05);
});

test('a fill across a hollow holds the air behind it, and the air below runs shallower', () => {
  const frame = airFrame(24, 40, 25);
  const hollow = (x: number, y: number) => 200 - 0.06 * y + 0.25 * Math.abs(x - 300);
  const open = groundOf(frame, hollow);
  const dammed = groundOf(frame, (x, y) => (y > 500 && y < 550 ? Math.max(hollow(x, y), 205) : hollow(x, y)));
  const run = (ground: typeof open) => {
    const layer = emptyLayer(ground.cells.length);
    runLayer(layer, ground, same(ground, COOLING), same(ground, 0.02), 2 * 3600);
    return layer;
  };
  const free = run(open);
  const held = run(dammed);
  const above = 18 * 24 + 12;
  const below = 26 * 24 + 12;
  expect(held.depth[above]!).toBeGreaterThan(free.depth[above]! + 3);
  expect(held.depth[below]!).toBeLessThan(free.depth[below]!);
});

test('a timber edge across a hollow dams the air: it stands deeper above it and runs out thinner', () => {
  // Common practice, no source, in its sign; the drag of cover is our assumption.
  const frame = airFrame(24, 40, 25);
  const ground = groundOf(frame, (x, y) => 200 - 0.06 * y + 0.25 * Math.abs(x - 300));
  const run = (timber: boolean) => {
    const layer = emptyLayer(ground.cells.length);
    const drag = same(ground, DRAG_OF[COVER.open]!);
    if (timber) drag.fill(DRAG_OF[COVER.evergreen]!, 20 * 24, 24 * 24);
    runLayer(layer, ground, same(ground, COOLING), drag, 2 * 3600);
    return layer;
  };
  const free = run(false);
  const held = run(true);
  const above = 19 * 24 + 12;
  const below = 27 * 24 + 12;
  expect(held.depth[above]!).toBeGreaterThan(1.1 * free.depth[above]!);
  const speed = (layer: typeof free, i: number) => layerWind(layer, 24).south[i]!;
  expect(speed(held, above)).toBeLessThan(0.9 * speed(free, above));
  expect(held.depth[above]!).toBeGreaterThan(held.depth[below]!);
});

test('mirrored ground gives the mirrored layer', () => {
  const frame = airFrame(30, 20, 25);
  const shape = (x: number, y: number) =>
    100 - 0.08 * y + 8 * Math.sin(x / 60) + 5 * Math.cos(x / 33 + y / 50);
  const ground = groundOf(frame, shape);
  const mirror = groundOf(frame, (x, y) => shape(30 * 25 - x, y));
  const a = emptyLayer(600);
  const b = emptyLayer(600);
  runLayer(a, ground, same(ground, COOLING), same(ground, 0.02), 3600);
  runLayer(b, mirror, same(mirror, COOLING), same(mirror, 0.02), 3600);
  for (let r = 0; r < 20; r++)
    for (let c = 0; c < 30; c++)
      expect(Math.abs(a.depth[r * 30 + c]! - b.depth[r * 30 + 29 - c]!)).toBeLessThan(
        0.02 + 0.02 * a.depth[r * 30 + c]!,
      );
});

test('level ground: the layer thickens where it lies and nothing moves', () => {
  const frame = airFrame(12, 12, 25);
  // Walled in, or it would run off the map's edge.
  const ground = groundOf(frame, (x, y) => (x < 25 || y < 25 || x > 275 || y > 275 ? 200 : 100));
  const layer = emptyLayer(144);
  runLayer(layer, ground, same(ground, COOLING), same(ground, 0.02), 600);
  const { east, south } = layerWind(layer, 12);
  expect(Math.hypot(east[78]!, south[78]!)).toBeLessThan(0.05);
  expect(layer.depth[78]!).toBeGreaterThan(0.1);
});

test('warming ground eats the layer up', () => {
  const frame = airFrame(12, 12, 25);
  const ground = groundOf(frame, (x, y) => 100 + 0.05 * (Math.abs(x - 150) + Math.abs(y - 150)));
  const layer = emptyLayer(144);
  runLayer(layer, ground, same(ground, COOLING), same(ground, 0.02), 3600);
  const cold = total(layer.deficit);
  runLayer(layer, ground, same(ground, -150), same(ground, 0.02), 3 * 3600);
  expect(cold).toBeGreaterThan(1);
  expect(total(layer.deficit)).toBeLessThan(0.02 * cold);
  expect(Math.min(...layer.deficit)).toBeGreaterThanOrEqual(0);
});
