import type { Geometry, Position } from 'geojson';
import type { Artifacts } from '../../core/analysis/artifacts.ts';
import type { ReportModel } from '../../core/analysis/report.ts';
import type { Point } from '../../core/grid/frame.ts';
import { crsDefinition, type Transform, transform, WGS84 } from '../readers/crs.ts';

/** What the files for phones and receivers are written from: longitude and latitude on WGS 84. */
export interface FieldPlace {
  name: string;
  kind: string;
  status: 'existing' | 'proposed';
  /** In one line. */
  about: string;
  geometry: Geometry;
}

export interface FieldPlan {
  title: string;
  note: string;
  places: FieldPlace[];
  /** Stops of the walk list in walking order, and where the walk begins and ends. */
  stops: { name: string; about: string; at: Position }[];
  start: Position | null;
}

export function fieldPlan(artifacts: Pick<Artifacts, 'features'>, report: ReportModel): FieldPlan {
  const place = transform(crsDefinition(report.property.epsg), WGS84);
  const jobs = new Map(report.work.jobs.map((job) => [job.id, job]));
  return {
    title: report.property.name,
    note: [
      report.property.invented ? 'Invented example.' : null,
      report.lineNote ? `${report.lineNote}.` : null,
      'Desk work: walk the ground before anything is cut, built or hunted. Local law comes first.',
    ]
      .filter(Boolean)
      .join(' '),
    places: artifacts.features.map((feature) => {
      const job = jobs.get(feature.id);
      const isLine = feature.kind === 'boundary' && report.lineNote !== null;
      return {
        name: feature.name ?? job?.name ?? feature.kind,
        kind: feature.kind,
        status: feature.status,
        about: [
          `${feature.kind}, ${feature.status}.`,
          isLine ? `${report.lineNote}.` : null,
          job ? job.quantities.map(({ label, text }) => `${label}: ${text}`).join('; ') : null,
        ]
          .filter(Boolean)
          .join(' '),
        geometry: placed(feature.geometry, place),
      };
    }),
    stops: report.walk.spots.map(({ number, title, why, look, photograph, choices, at }) => ({
      name: `${number}. ${title}`,
      about: `${why} Look for: ${look.join('; ')}. Photograph: ${photograph.join('; ')}. Answer by putting one of these words here: ${choices.map(({ key, title }) => `${key} (${title})`).join(', ')}.`,
      at: spot(at, place),
    })),
    start: report.walk.start && spot(report.walk.start, place),
  };
}

/** Eight decimals of a degree are about a millimetre: what comes back is what went out. */
const DECIMALS = 8;

function spot([x, y]: Point, place: Transform): Position {
  const [longitude, latitude] = place(x, y);
  return [Number(longitude.toFixed(DECIMALS)), Number(latitude.toFixed(DECIMALS))];
}

/** As a decimal without an exponent, which the schema of GPX does not know. */
export const degrees = (value: number): string => value.toFixed(DECIMALS).replace(/\.?0+$/, '');

type Nested = Position | Nested[];
const placedAll = (nested: Nested, place: Transform): Nested =>
  typeof nested[0] === 'number'
    ? spot([nested[0], nested[1] as number], place)
    : (nested as Nested[]).map((part) => placedAll(part, place));

function placed(geometry: Geometry, place: Transform): Geometry {
  if (geometry.type === 'GeometryCollection')
    return { ...geometry, geometries: geometry.geometries.map((part) => placed(part, place)) };
  return { ...geometry, coordinates: placedAll(geometry.coordinates, place) } as Geometry;
}

/** Points, paths and rings of a geometry, apart. */
export function partsOf(geometry: Geometry): {
  points: Position[];
  paths: Position[][];
  areas: Position[][][];
} {
  switch (geometry.type) {
    case 'Point':
      return { points: [geometry.coordinates], paths: [], areas: [] };
    case 'MultiPoint':
      return { points: geometry.coordinates, paths: [], areas: [] };
    case 'LineString':
      return { points: [], paths: [geometry.coordinates], areas: [] };
    case 'MultiLineString':
      return { points: [], paths: geometry.coordinates, areas: [] };
    case 'Polygon':
      return { points: [], paths: [], areas: [geometry.coordinates] };
    case 'MultiPolygon':
      return { points: [], paths: [], areas: geometry.coordinates };
    case 'GeometryCollection': {
      const parts = geometry.geometries.map(partsOf);
      return {
        points: parts.flatMap(({ points }) => points),
        paths: parts.flatMap(({ paths }) => paths),
        areas: parts.flatMap(({ areas }) => areas),
      };
    }
  }
}

/** Text as XML content or attribute; signs XML 1.0 does not allow are left out. */
export const xml = (text: string): string =>
  text
    .toWellFormed()
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the signs XML has no place for
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffd-\uffff]/g, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
