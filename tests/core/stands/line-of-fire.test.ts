import { describe, expect, test } from 'vitest';
import type { Feature } from '../../../core/features/feature.ts';
import type { Grid } from '../../../core/grid/frame.ts';
import { fireRay } from '../../../core/stands/fire-rays.ts';
import { lineOfFire } from '../../../core/stands/line-of-fire.ts';
import { DEFAULT_STANDS, type StandSettings } from '../../../core/stands/settings.ts';
import type { Sector } from '../../../core/stands/types.ts';
import { sampleAt } from '../../../core/terrain/sample.ts';
import { roughGround } from '../terrain/grounds.ts';
import { box, feature, frameOf, gridOf, line, point, standAt } from './scene.ts';

const EYE = 5 + 0.79;
const CHEST = 0.75;
const frame = frameOf(400, 400, 2);
const flat = gridOf(frame, () => 100);
const stand = standAt(401, 401);

const look = (elevation: Grid, features: Feature[] = [], more: Partial<StandSettings> = {}, spot = stand) =>
  lineOfFire({ elevation, features }, spot, 100 + EYE, { ...DEFAULT_STANDS, ...more }, 'us');
const at = (sectors: readonly Sector[], bearing: number): Sector =>
  sectors.find(({ from, to }) => bearing >= from && bearing < to)!;

describe('where a line through a deer ends', () => {
  test('on level ground by similar triangles', () => {
    const ray = fireRay(flat, stand.at, 100 + EYE, 90, 30, 300);
    // The farthest deer in range on the slant, on whole metres: 29 m level. The line falls EYE - CHEST over 29 m and
    // has EYE to fall.
    expect(ray.beyond).toBeGreaterThanOrEqual((29 * EYE) / (EYE - CHEST) - 29);
    expect(ray.beyond).toBeLessThan((29 * EYE) / (EYE - CHEST) - 29 + 1.01);
    expect(ray.meets).toBeCloseTo((Math.atan((EYE - CHEST) / 29) * 180) / Math.PI, 6);
    expect(ray.unknown).toBe(Number.POSITIVE_INFINITY);
  });

  test('as marching every line step by step finds it, over rough ground', () => {
    const rough = roughGround(160, 160, 5);
    const [x, y] = [600_000 + 160, 4_300_000 - 160];
    const eye = sampleAt(rough, x, y) + 6;
    const step = rough.frame.cellSize / 2;
    let stopped = 0;
    let free = 0;
    for (let bearing = 0; bearing < 360; bearing += 7) {
      const ground = (d: number) =>
        sampleAt(
          rough,
          x + Math.sin((bearing * Math.PI) / 180) * d,
          y + Math.cos((bearing * Math.PI) / 180) * d,
        );
      let beyond = 0;
      let targets = 0;
      for (let k = 3; k * step <= 60; k++) {
        const d = k * step;
        const target = ground(d) + CHEST;
        if (Math.hypot(d, eye - target) > 60) continue;
        const line = (to: number) => eye + ((target - eye) * to) / d;
        let hidden = false;
        for (let j = 1; j < k; j++) if (ground(j * step) > line(j * step)) hidden = true;
        if (hidden) continue;
        targets++;
        let hit = Number.POSITIVE_INFINITY;
        for (let j = k + 1; j * step <= 140; j++)
          if (ground(j * step) >= line(j * step)) {
            hit = j * step;
            break;
          }
        beyond = Math.max(beyond, hit - d);
      }
      const ray = fireRay(rough, [x, y], eye, bearing, 60, 140);
      expect(ray.targets, `bearing ${bearing}`).toBe(targets);
      expect(ray.beyond, `bearing ${bearing}`).toBeCloseTo(beyond, 6);
      if (beyond === Number.POSITIVE_INFINITY) free++;
      else stopped++;
    }
    expect(stopped).toBeGreaterThan(5);
    expect(free).toBeGreaterThan(5);
  });
});

describe('sectors', () => {
  test('level ground from a raised seat stops every line; nothing is ever called safe', () => {
    const fire = look(flat);
    expect(fire.degrees).toEqual({ checked: 360, open: 0, closed: 0, unknown: 0 });
    const said = [...fire.cautions, ...fire.looked, ...fire.sectors.flatMap(({ reasons }) => reasons)].join(
      ' ',
    );
    expect(said.match(/[^.]*\bsafe\b[^.]*\./g)).toEqual([
      ' It does not say that a shot is safe: the person behind the gun knows the target and what is behind it, or does not shoot.',
    ]);
    expect(fire.looked.join(' ')).toContain('look up the local rule');
  });

  test('a rise behind is a backstop, the edge of a drop is a skyline', () => {
    // North: a bank 40 m off. South: the ground ends at 25 m and lies 60 m deeper.
    const ground = gridOf(frame, (_, y) => (y > 441 ? 100 + (y - 441) : y < 376 ? 40 : 100));
    const fire = look(ground);
    const north = at(fire.sectors, 2);
    expect(north.state).toBe('checked');
    expect(north.stops).toBeLessThan(30);
    const south = at(fire.sectors, 182);
    expect(south.state).toBe('open');
    expect(south.reasons.join(' ')).toMatch(/runs on|Skyline/);
  });

  test('what lies in the way closes its directions and no others', () => {
    const drop = gridOf(frame, (_, y) => (y < 376 ? 40 : 100));
    const house = { ...feature('building', box(395, 250, 405, 260)), name: 'House' };
    const closed = look(drop, [house]);
    const south = at(closed.sectors, 180);
    expect(south.state).toBe('closed');
    expect(south.behind[0]).toMatchObject({ what: 'house', stopped: false });
    // 401 - 260 less the 10 m things are drawn roughly by.
    expect(south.behind[0]!.distance).toBeCloseTo(131, 0);
    expect(at(closed.sectors, 215).state).toBe('open');
    expect(at(closed.sectors, 0).state).toBe('checked');
    // The same house behind ground that stops the line is told and closes nothing.
    const behind = at(look(flat, [house]).sectors, 180);
    expect(behind.state).toBe('checked');
    expect(behind.reasons.join(' ')).toContain('Beyond the ground that stops the line: House');
  });

  test('roads, rails, stock, other stands and places people come from count; tracks and what is proposed do not', () => {
    const things = [
      feature('road', line([300, 380], [500, 380]), { class: 'county' }),
      feature('railroad', line([420, 300], [420, 500])),
      feature('food', box(300, 420, 500, 440), { stockFrom: '05-01', stockTo: '10-01' }),
      feature('stand', point(381, 401)),
      feature('access', point(385, 385)),
      feature('road', line([300, 401], [500, 401]), { class: 'track' }),
      feature('building', box(395, 404, 405, 410), {}, 'proposed'),
    ];
    const { sectors } = look(flat, things);
    const met = new Set(sectors.flatMap(({ behind }) => behind.map(({ what }) => what)));
    expect([...met].sort()).toEqual(['people', 'railroad', 'road', 'stand', 'stock']);
    for (const { what } of sectors.flatMap(({ behind }) => behind)) expect(what).not.toBe('house');
  });

  test('a line that leaves the property before ground stops it is closed', () => {
    const boundary = feature('boundary', box(100, 100, 425, 700));
    const { sectors } = look(flat, [boundary]);
    const east = at(sectors, 90);
    expect(east.state).toBe('closed');
    expect(east.behind[0]).toMatchObject({ what: 'neighbour' });
    expect(east.behind[0]!.distance).toBeCloseTo(24, 1);
    expect(at(sectors, 270).state).toBe('checked');
  });

  test('a setback that was entered closes all; none is made up', () => {
    const house = feature('building', box(395, 450, 405, 460));
    expect(at(look(flat, [house]).sectors, 200).state).toBe('checked');
    const set = look(flat, [house], { setback: { building: 100, road: null } });
    expect(set.degrees.closed).toBe(360);
    expect(set.sectors[20]!.reasons[0]).toContain('setback');
  });

  test('cells too coarse for what lies close behind tell nothing of it; what is drawn in the way still closes', () => {
    // A bow reaches 30 m: cells of 40 m are too coarse, cells of 20 m are not.
    const ground = (cellSize: number) => gridOf(frameOf(800 / cellSize, 800 / cellSize, cellSize), () => 100);
    expect(look(ground(20)).degrees.checked).toBe(360);
    const coarse = look(ground(40));
    expect(coarse.degrees.unknown).toBe(360);
    expect(coarse.runs).toHaveLength(1);
    expect(coarse.runs[0]!.reasons).toEqual([
      'Cells of 44 yd are too coarse to show what lies within 33 yd.',
    ]);
    const house = feature('building', box(441, 396, 10, 10));
    const shut = lineOfFire(
      { elevation: ground(40), features: [house] },
      standAt(401, 401, { range: 60 }),
      100 + EYE,
      DEFAULT_STANDS,
      'us',
    );
    expect(at(shut.sectors, 90).state).toBe('closed');
  });

  test('ground that is not known is not guessed', () => {
    const holed = gridOf(frame, (x) => (x > 415 ? Number.NaN : 100));
    const { sectors } = look(holed);
    expect(at(sectors, 90).behind.some(({ what }) => what === 'map edge')).toBe(true);
    expect(at(sectors, 90).state).not.toBe('checked');
    expect(at(sectors, 270).state).toBe('checked');
  });
});
