import type { Position } from 'geojson';
import { degrees, type FieldPlan, partsOf, xml } from './field-files.ts';

/**
 * GPX 1.1 (Topografix schema): points of the plan as waypoints, ways in as routes, other lines and the edges of ground
 * as tracks. Elements stand in the schema's order: metadata, wpt, rte, trk.
 */
export function gpxOf(plan: FieldPlan): string {
  const points: string[] = [];
  const routes: string[] = [];
  const tracks: string[] = [];
  for (const { name, kind, status, about, geometry } of plan.places) {
    const head = `<name>${xml(name)}</name><desc>${xml(about)}</desc>`;
    const type = `<type>${xml(`${kind} ${status}`)}</type>`;
    const { points: spots, paths, areas } = partsOf(geometry);
    for (const at of spots) points.push(`<wpt ${at_(at)}>${head}${type}</wpt>`);
    if (kind === 'access')
      for (const path of paths)
        routes.push(`<rte>${head}${type}${path.map((at) => `<rtept ${at_(at)}/>`).join('')}</rte>`);
    else if (paths.length > 0) tracks.push(`<trk>${head}${type}${paths.map(segment).join('')}</trk>`);
    const rings = areas.flat();
    if (rings.length > 0) tracks.push(`<trk>${head}${type}${rings.map(segment).join('')}</trk>`);
  }
  return document(plan, [...points, ...routes, ...tracks]);
}

/** The walk list as GPX: each stop a waypoint, and the round as a route in walking order. */
export function walkGpxOf(plan: FieldPlan): string {
  const stops = plan.stops.map(
    ({ name, about, at }) => `<wpt ${at_(at)}><name>${xml(name)}</name><desc>${xml(about)}</desc></wpt>`,
  );
  const round = [
    ...(plan.start ? [{ name: 'Start', at: plan.start }] : []),
    ...plan.stops,
    ...(plan.start ? [{ name: 'Back', at: plan.start }] : []),
  ];
  const legs = round.map(({ name, at }) => `<rtept ${at_(at)}><name>${xml(name)}</name></rtept>`).join('');
  return document(plan, [...stops, `<rte><name>${xml(`${plan.title}: walk list`)}</name>${legs}</rte>`]);
}

const at_ = ([longitude, latitude]: Position): string =>
  `lat="${degrees(latitude!)}" lon="${degrees(longitude!)}"`;
const segment = (path: readonly Position[]): string =>
  `<trkseg>${path.map((at) => `<trkpt ${at_(at)}/>`).join('')}</trkseg>`;

const document = (plan: FieldPlan, body: readonly string[]): string =>
  [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<gpx version="1.1" creator="Hollowgate" xmlns="http://www.topografix.com/GPX/1/1">',
    `<metadata><name>${xml(plan.title)}</name><desc>${xml(plan.note)}</desc></metadata>`,
    ...body,
    '</gpx>',
    '',
  ].join('\n');
