import type {
  CatchmentAnswer,
  DrainageAnswer,
  FetchItem,
  Legend,
  ShadowAnswer,
  SightlineAnswer,
  SunAnswer,
  ViewAnswer,
  WayViewAnswer,
} from '../../../electron/service/contract.ts';
import { at, elevation, FRAME } from './ground.ts';

type Tile = (layer: string, z: number, x: number, y: number) => Promise<Uint8Array>;

const elevationAt = ([x, y]: [number, number]): number =>
  elevation((x - FRAME.west) / FRAME.cellSize, (FRAME.north - y) / FRAME.cellSize);

/** The line over the fake landscape, looked along in a hundred steps. */
function sightline(params: {
  from: [number, number];
  to: [number, number];
  observerHeight: number;
  targetHeight: number;
}): SightlineAnswer {
  const { from, to, observerHeight, targetHeight } = params;
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const place = (t: number): [number, number] => [
    from[0] + t * (to[0] - from[0]),
    from[1] + t * (to[1] - from[1]),
  ];
  const steps = Array.from({ length: 101 }, (_, n) => n / 100);
  const eye = elevationAt(from) + observerHeight;
  const end = elevationAt(to) + targetHeight;
  const hit = steps
    .slice(1, -1)
    .map((t) => ({ t, above: elevationAt(place(t)) - (eye + t * (end - eye)) }))
    .find(({ above }) => above > 0);
  return {
    visible: hit === undefined,
    profile: steps.map((t) => ({ distance: t * length, ground: elevationAt(place(t)) })),
    length,
    obstruction: hit ? { at: place(hit.t), distance: hit.t * length, above: hit.above } : null,
    sentence: hit ? 'Hidden by the ridge.' : 'In sight all the way.',
    note: 'Over bare ground.',
  };
}

/** Answers about the fake ground: invented numbers, except the line of sight, which is looked along. */
export function groundAnswers(
  settings: () => Record<string, unknown>,
  tile: Tile,
): Record<string, (params: never) => unknown> {
  let views = 0;
  return {
    'map.overlayTile': ({ overlay, z, x, y }: { overlay: string; z: number; x: number; y: number }) =>
      tile(overlay, z, x, y),
    'map.overlayLegend': (): Legend => ({
      title: 'View',
      unit: '',
      entries: [
        { label: 'In view', colour: '#f2d64b', pattern: 'dots' },
        { label: 'Hidden', colour: '#555555', pattern: 'rising' },
      ],
    }),
    'ground.catchment': ({ x, y }: { x: number; y: number }): CatchmentAnswer => ({
      outline: { type: 'Polygon', coordinates: [[at(150, 120), at(230, 130), [x, y], at(150, 120)]] },
      area: 120_000,
      outlet: [x, y],
      snapped: null,
      reachesEdge: false,
      sentence: '30 acres drain to this spot (no drainage line is near).',
    }),
    'ground.view': ({ through }: { through: string }): ViewAnswer => ({
      overlay: {
        id: `view-${++views}`,
        kind: through === 'vegetation' ? 'screened-view' : 'view',
        title: through === 'vegetation' ? 'View through cover' : 'View over bare ground',
      },
      clear: 80_000,
      glimpsed: 90_000,
      sentence: '20 acres in view.',
      note: 'Over bare ground.',
    }),
    'ground.wayView': (): WayViewAnswer => ({
      overlay: { id: `way-view-${++views}`, kind: 'way-view', title: 'Sees the lane' },
      seenFrom: 40_000,
      areas: [
        { name: 'North thicket', share: 0.62 },
        { name: 'Hay field', share: 0 },
      ],
      sentence: 'The lane is in view from 10 acres; North thicket sees up to 62% of it.',
      note: 'Over bare ground.',
    }),
    'ground.sightline': sightline,
    'ground.sun': (): SunAnswer => ({
      times: [
        { event: 'sunrise', label: 'Sunrise', utc: '2026-11-07T12:05:00Z', standard: '06:05' },
        { event: 'sunset', label: 'Sunset', utc: '2026-11-07T22:58:00Z', standard: '16:58' },
        { event: 'dusk', label: 'Last civil light', utc: null, standard: null },
      ],
      zone: 'UTC-6',
      note: 'Over a level horizon.',
    }),
    'ground.shadow': (): ShadowAnswer => ({
      overlay: { id: 'shadow-1', kind: 'shadow', title: 'Shade of the terrain' },
      sun: { azimuth: 120, altitude: 11 },
      share: 0.34,
      sentence: 'The terrain keeps 34% of the ground in the shade.',
    }),
    'ground.drainage': (): DrainageAnswer => {
      const own = (settings().ground as { drainageThreshold?: number | null } | undefined)?.drainageThreshold;
      return {
        area: own ?? 20_000,
        how: own ? 'set by the user' : 'constant drop',
        lines: 7,
        sentence: own ? 'Lines start as you set it.' : 'Chosen by the constant-drop test on this ground.',
      };
    },
    'ground.toFetch': (): FetchItem[] => [
      { kind: 'elevation', name: 'USGS_1M_16_x57y437', what: 'fine elevation', have: true, cost: null },
      {
        kind: 'wind',
        name: 'ISD-Lite, station-year.gz',
        what: 'hourly wind',
        have: false,
        cost: 'Without a wind record no stand can be rated.',
      },
    ],
  };
}
