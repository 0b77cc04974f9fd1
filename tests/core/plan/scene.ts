import type { Geometry } from 'geojson';
import type { AttributeValue, Feature, FeatureKind } from '../../../core/features/feature.ts';
import { FOOT, YARD } from '../../../core/features/units.ts';
import type { PlanSettings } from '../../../core/plan/plan-work.ts';
import { DEFAULT_CALENDAR } from '../../../core/plan/windows.ts';

const [WEST, SOUTH] = [440_000, 4_350_000];

export const line = (...points: [number, number][]): Geometry => ({
  type: 'LineString',
  coordinates: points.map(([x, y]) => [WEST + x, SOUTH + y]),
});
export const point = (x: number, y: number): Geometry => ({
  type: 'Point',
  coordinates: [WEST + x, SOUTH + y],
});
/** A rectangle with its south-west corner at a spot. */
export const field = (x: number, y: number, wide: number, high: number): Geometry => ({
  type: 'Polygon',
  coordinates: [
    [
      [WEST + x, SOUTH + y],
      [WEST + x + wide, SOUTH + y],
      [WEST + x + wide, SOUTH + y + high],
      [WEST + x, SOUTH + y + high],
      [WEST + x, SOUTH + y],
    ],
  ],
});

export const feature = (
  id: string,
  kind: FeatureKind,
  geometry: Geometry,
  attributes: Record<string, AttributeValue> = {},
  status: Feature['status'] = 'proposed',
): Feature => ({ id, kind, status, name: `The ${id}`, geometry, attributes, source: 'drawn' });

export const SETTINGS: PlanSettings = { rates: {}, calendar: DEFAULT_CALENDAR, budget: null, crewDays: null };

/** One of every kind of job, in round numbers: 200 ft lines, a field of 660 by 66 ft, which is one acre. */
export const EVERY_JOB: Feature[] = [
  feature('barricade', 'barricade', line([0, 0], [200 * FOOT, 0]), { height: 5 * FOOT }),
  feature('hinge', 'cut', field(0, 100, 660 * FOOT, 66 * FOOT), { basalArea: 100 * 0.229568 }),
  feature('felled', 'bedding', field(0, 200, 660 * FOOT, 66 * FOOT), { method: 'fell' }),
  feature('trail', 'trail', line([0, 300], [100 * YARD, 300])),
  feature('lane', 'trail', line([0, 320], [100 * YARD, 320]), { method: 'mulch' }),
  feature('screen', 'screen', line([0, 340], [100 * YARD, 340]), { plant: 'rhizomes' }),
  feature('grass', 'screen', field(0, 350, 660 * FOOT, 66 * FOOT)),
  feature('pines', 'conifers', field(0, 400, 660 * FOOT, 66 * FOOT)),
  feature('glade', 'opening', field(0, 450, 660 * FOOT, 66 * FOOT)),
  feature('plot', 'food', field(0, 500, 660 * FOOT, 66 * FOOT)),
  feature('ford', 'gap', point(10, 550), { type: 'ford', width: 16 * FOOT }),
  feature('span', 'gap', point(50, 550), { type: 'lowered' }),
  feature('perch', 'stand', point(100 * YARD + 5, 300), { seatHeight: 18 * FOOT }),
  feature('blind', 'stand', point(90, 600), { structure: 'tower', towerHeight: 10 * FOOT }),
  feature('feed', 'feeder', point(99, 600), { remove: true }, 'existing'),
];
