import { readFileSync } from 'node:fs';
import proj4 from 'proj4';
import { describe, expect, test } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import type { Point } from '../../../core/grid/frame.ts';
import { passingsOf, REACH, reachAt, reachGrid, shotAt, shotTo } from '../../../core/stands/reach.ts';
import { DEFAULT_STANDS } from '../../../core/stands/settings.ts';
import { sightWindow } from '../../../core/stands/sight-window.ts';
import { standSpots } from '../../../core/stands/spot.ts';
import { outside } from '../../outside.ts';
import { unpack } from '../terrain/grounds.ts';
import { earthCentred, GRS80, vincenty, WGS84 } from './geodesy.ts';
import { feature, frameOf, line, point, sightGround, standAt } from './scene.ts';

describe('angles and distances', () => {
  test('the reference itself gives the published line from Flinders Peak to Buninyong', () => {
    // Geoscience Australia, GDA94 Technical Manual: 54 972.271 m, azimuth 306° 52' 05.37" (values from memory).
    const dms = (d: number, m: number, s: number) => Math.sign(d) * (Math.abs(d) + m / 60 + s / 3600);
    const flinders = [dms(144, 25, 29.5244), dms(-37, 57, 3.7203)] as const;
    const buninyong = [dms(143, 55, 35.3839), dms(-37, 39, 10.1561)] as const;
    const { distance, azimuth } = vincenty(GRS80, flinders, buninyong);
    expect(distance).toBeCloseTo(54_972.271, 3);
    expect(azimuth).toBeCloseTo(dms(306, 52, 5.37), 5);
  });

  const utm = proj4('WGS84', '+proj=utm +zone=17 +datum=WGS84 +units=m +no_defs');
  test.each([
    [-81.697, 39.297, 20],
    [-81.699, 39.2985, 90],
    [-81.6955, 39.2962, 210],
  ])('level distance and bearing of %f, %f agree with the geodesic', (longitude, latitude, drop) => {
    const stand: [number, number] = [-81.6975, 39.2975];
    const deer: [number, number] = [longitude, latitude];
    const [from, to] = [utm.forward(stand) as Point, utm.forward(deer) as Point];
    const shot = shotTo(from, 300, to, 300 - drop);
    const { distance, azimuth } = vincenty(WGS84, stand, deer);
    // Nothing but the scale of the projection: 0.9996 in the middle of the zone.
    const scale = outside({
      room: 'stands',
      method: 'Level and slant distance of a shot',
      source: 'Vincenty 1975 on WGS 84; chord in earth-centred coordinates',
      unit: 'of the distance',
      allowed: 6e-4,
    });
    scale.compare(shot.level / distance, 1);
    // Grid north against true north there: (lon - lon0) sin(lat), Snyder 1987 eq. 8-9 near the meridian.
    const convergence = (stand[0] + 81) * Math.sin((stand[1] * Math.PI) / 180);
    const turn = outside({
      room: 'stands',
      method: 'Bearing of a shot',
      source: 'Vincenty 1975; Snyder 1987, eq. 8-9',
      unit: 'degrees',
      allowed: 0.02,
    });
    turn.compare(((shot.bearing + convergence - azimuth + 540) % 360) - 180, 0);
    turn.done();
    // Slant against the chord between the two places in earth-centred coordinates.
    const a = earthCentred(WGS84, ...stand, 300);
    const b = earthCentred(WGS84, ...deer, 300 - drop);
    const chord = Math.hypot(...a.map((value, k) => value - b[k]!));
    scale.compare(shot.slant / chord, 1);
    scale.done();
    expect(shot.down).toBeCloseTo((Math.asin(drop / shot.slant) * 180) / Math.PI, 9);
  });
});

describe('what a stand sees', () => {
  interface Case {
    width: number;
    height: number;
    cellSize: number;
    column: number;
    row: number;
    seatHeight: number;
    radius: number;
    elevation: { type: string; data: string };
    seen: { type: string; data: string };
  }
  const { cases }: { cases: Case[] } = JSON.parse(
    readFileSync(new URL('../../reference/fixtures/stands/view.json', import.meta.url), 'utf8'),
  );
  // GDAL 3.6 gdal_viewshed, tests/reference/stands/make_view.py.
  test.each(cases)('over rough ground as gdal_viewshed has it, seat $seatHeight m', (reference) => {
    const frame = frameOf(reference.width, reference.height, reference.cellSize);
    const heights = unpack(reference.elevation as never) as Float32Array;
    const theirs = unpack(reference.seen as never);
    const ground = { ...sightGround(frame, () => 0), elevation: { frame, cells: heights } };
    const at: Point = [
      (reference.column + 0.5) * reference.cellSize,
      frame.north - (reference.row + 0.5) * reference.cellSize,
    ];
    const stand = standAt(...at, { seatHeight: reference.seatHeight, range: reference.radius });
    const window = sightWindow(ground, at, 1000, 'off');
    const { codes } = reachGrid(window, stand);
    let differ = 0;
    let clear = 0;
    let compared = 0;
    codes.cells.forEach((code, i) => {
      if (code === 0) return;
      compared++;
      if ((code === REACH.clear) !== (theirs[i] === 1)) differ++;
      clear += theirs[i]!;
    });
    expect(clear).toBeGreaterThan(200);
    expect(compared - clear).toBeGreaterThan(200);
    const check = outside({
      room: 'stands',
      method: 'What a stand sees over rough ground',
      source: 'GDAL 3.6 gdal_viewshed',
      unit: 'of the cells',
      allowed: 0.02,
    });
    check.part(differ, compared);
    check.done();
  });

  test('range counts on the slant: from a high seat level ground is reached less far', () => {
    const frame = frameOf(80, 80, 1);
    const reach = reachGrid(
      sightWindow(
        sightGround(frame, () => 100),
        [40.5, 40.5],
        60,
        'off',
      ),
      standAt(40.5, 40.5, { seatHeight: 20 - 0.79 + 0.75, range: 29 }),
    );
    // By Pythagoras: 20 m down, 21 m level, 29 m on the slant.
    expect(reachAt(reach, [40.5 + 20.9, 40.5])).toBe(REACH.clear);
    expect(reachAt(reach, [40.5 + 22.1, 40.5])).toBe(0);
    const shot = shotAt(reach, [61.5, 40.5]);
    expect(shot.slant).toBeCloseTo(29, 5);
    expect(shot.down).toBeCloseTo((Math.atan(20 / 21) * 180) / Math.PI, 5);
    expect(shot.bearing).toBeCloseTo(90, 9);
  });

  test('brush hides more with its leaves on, and a hill whatever the season', () => {
    const frame = frameOf(60, 20, 1);
    const ground = sightGround(
      frame,
      (x) => (x > 45 && x < 48 ? 110 : 100),
      (x) => (x > 30 && x < 40 ? COVER.brush : COVER.open),
    );
    const look = (leaves: 'on' | 'off') =>
      reachGrid(
        sightWindow(ground, [20.5, 10.5], 40, leaves),
        standAt(20.5, 10.5, { seatHeight: 1, range: 35 }),
      );
    const on = look('on');
    const off = look('off');
    expect(reachAt(on, [25.5, 10.5])).toBe(REACH.clear);
    expect(reachAt(on, [42.5, 10.5])).toBe(REACH.glimpsed);
    const left = ({ view }: typeof on, x: number) => view.cells[10 * view.frame.width + Math.floor(x)]!;
    // Beer's law over 9 m of brush that takes 12% a metre with leaves, 60% of that without.
    expect(left(on, 42.5)).toBeCloseTo(0.88 ** 9, 1);
    expect(left(off, 42.5)).toBeCloseTo((1 - 0.12 * 0.6) ** 9, 1);
    for (const reach of [on, off]) expect(reachAt(reach, [52.5, 10.5])).toBe(REACH.ground);
  });

  test('a line of travel is measured in range and in view', () => {
    const frame = frameOf(60, 60, 1);
    const ground = sightGround(
      frame,
      () => 100,
      (x) => (x < 20 ? COVER.built : COVER.open),
    );
    const reach = reachGrid(
      sightWindow(ground, [30.5, 10.5], 40, 'off'),
      standAt(30.5, 10.5, { seatHeight: 0, range: 25 }),
    );
    const path: Point[] = [
      [0, 25.5],
      [60, 25.5],
    ];
    const far: Point[] = [
      [0, 50],
      [60, 50],
    ];
    const [passing, ...rest] = passingsOf(reach, [
      { kind: 'route', id: 'a', share: 0.5, path },
      { kind: 'route', id: 'b', share: 0.5, path: far },
    ]);
    expect(rest).toEqual([]);
    // A chord 15 m off the middle of a circle of 25 m is 40 m long; half of it lies beyond x = 20.
    expect(passing!.inReach).toBeGreaterThan(38);
    expect(passing!.inReach).toBeLessThan(42);
    expect(passing!.inView).toBeGreaterThan(27);
    expect(passing!.inView).toBeLessThan(passing!.inReach - 5);
    expect(passing!.nearest.level).toBeCloseTo(15, 1);
  });
});

test('stands come with their own seat, weapon and range, or the usual ones and say so', () => {
  const frame = frameOf(50, 50, 2);
  const features = [
    feature('stand', point(10, 10), { seatHeight: 6, weapon: 'rifle', range: 180 }),
    feature('stand', point(20, 20), { weapon: 'crossbow' }),
    feature('stand', point(30, 30), { weapon: 'harsh words' }, 'proposed'),
    feature('stand', point(300, 30)),
    feature('fence', line([0, 0], [9, 9])),
  ];
  const spots = standSpots(frame, features, DEFAULT_STANDS, null);
  expect(
    spots.map(({ weapon, range, seatKnown, proposed }) => [weapon, Math.round(range), seatKnown, proposed]),
  ).toEqual([
    ['rifle', 180, true, false],
    // Common practice: 50 yd, 30 yd.
    ['crossbow', 46, false, false],
    ['bow', 27, false, true],
  ]);
});
