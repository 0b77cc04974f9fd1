import { describe, expect, test } from 'vitest';
import type { Feature } from '../../../core/features/feature.ts';
import { asBuilt } from '../../../core/plan/as-built.ts';
import { jobKindOf } from '../../../core/plan/job-kind.ts';
import { feature, field, line, point } from './scene.ts';

const wall = feature('wall', 'barricade', line([0, 0], [60, 0]), { height: 1.5, variant: 'b' });
const cut = feature('cut', 'cut', field(0, 100, 40, 30));
const perch = feature('perch', 'stand', point(10, 50));
const planned = [wall, cut, perch, feature('old', 'barricade', line([0, 9], [9, 9]), {}, 'existing')];

const brought = (name: string, geometry: Feature['geometry'], attributes = {}): Feature => ({
  id: `f-${name}`,
  kind: 'walk',
  status: 'existing',
  name,
  geometry,
  attributes,
  source: 'back.gpx',
});
const laid = (...features: Feature[]) => asBuilt(planned, features, '2027-02-01');

describe('what was built takes the place of what was planned', () => {
  test('a track under the job’s name, with the day it was walked and what was meant', () => {
    const { built, rest } = laid(
      brought('the  WALL', line([0, 2], [45, 3]), { started: '2027-01-20T15:00:00.000Z', seconds: '0,90' }),
    );
    expect(rest).toEqual([]);
    expect(built).toEqual([
      {
        ...wall,
        status: 'existing',
        geometry: line([0, 2], [45, 3]),
        attributes: { height: 1.5, plannedLength: 60, done: '2027-01-20' },
        source: 'back.gpx',
      },
    ]);
    expect(jobKindOf(built[0]!)).toBe('barricade');
  });

  test('a closed track is the outline of ground, and a point the stand', () => {
    const { built } = laid(
      brought('The cut', line([0, 100], [50, 100], [50, 130], [0, 100])),
      brought('The perch', point(14, 52)),
    );
    expect(built.map(({ id, geometry }) => [id, geometry.type])).toEqual([
      ['cut', 'Polygon'],
      ['perch', 'Point'],
    ]);
    expect(built[0]!.attributes).toEqual({ plannedArea: 1200, done: '2027-02-01' });
  });

  test('points from start to stop make the line in their order', () => {
    const { built } = laid(
      brought('The wall stop', point(50, 0)),
      brought('The wall 10', point(40, 0)),
      brought('The wall 2', point(20, 0)),
      brought('The wall start', point(0, 0)),
    );
    expect(built[0]!.geometry).toEqual(line([0, 0], [20, 0], [40, 0], [50, 0]));
  });

  test('what comes back as it went out is not built, unless it says so', () => {
    expect(laid(brought('The wall', wall.geometry))).toEqual({ built: [], rest: [] });
    const { built } = laid(brought('The wall, as built', wall.geometry));
    expect(built[0]).toMatchObject({ id: 'wall', status: 'existing', attributes: { done: '2027-02-01' } });
    expect(laid(brought('The perch done', point(10, 50))).built).toHaveLength(1);
  });

  test('a track cannot be a stand, one point is no line, and another name is no job', () => {
    const odd = [
      brought('The perch', line([0, 0], [1, 1])),
      brought('The wall start', point(0, 0)),
      brought('A walk', line([0, 0], [9, 9])),
      brought('The old', line([0, 9], [8, 8])),
    ];
    const { built, rest } = laid(...odd);
    expect(built).toEqual([]);
    expect(rest.map(({ name }) => name).sort()).toEqual(odd.map(({ name }) => name).sort());
  });
});
