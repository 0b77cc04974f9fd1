import type { Geometry, Position } from 'geojson';
import type { Feature } from '../features/feature.ts';
import { areaOf, lengthOf } from '../features/measure.ts';
import { dayGiven, tidy } from './brought.ts';
import { doneOn, jobKindOf } from './job-kind.ts';

/** What comes back nearer to the planned shape than this is the plan itself, not what was built, m. */
const SAME = 0.5;

/** Words that say that a track or point is of work that was done. */
const BUILT = /[\s,:-]*\b(as[- ]?built|built|done)\b[\s.]*$/i;
/** Words and numbers of a point that is one of several of a job. */
const PART = /[\s,:-]+(start|begin|middle|corner|stop|end|\d{1,3})(?:\s*(\d{1,3}))?$/i;
const FIRST = /^(start|begin)$/i;
const LAST = /^(stop|end)$/i;

type Shape = 'Point' | 'LineString' | 'Polygon';
const shapeOf = ({ type }: Geometry): Shape | null =>
  /Polygon$/.test(type)
    ? 'Polygon'
    : /LineString$/.test(type)
      ? 'LineString'
      : /Point$/.test(type)
        ? 'Point'
        : null;

export interface Built {
  /** Planned features as they were built. */
  built: Feature[];
  /** What came in and is nothing of the plan. */
  rest: Feature[];
}

/**
 * Lays what was brought back over the plan: a track, area or point that bears the name (or id) of an open job, with
 * `built`, `as built` or `done` behind it or not, takes its place under its id, as existing and `done`; several
 * points named for one job and `start`, `1`, `2`, `stop` make its line or outline. A track closed to a ring is the
 * outline of ground. What comes back as it went out, without such a word, is the plan itself and is left out.
 * `plannedLength` (m) or `plannedArea` (m²) keep what was meant.
 *
 * @param planned features of the property, frame's CRS
 * @param brought features read from a file, in the same CRS
 * @param today YYYY-MM-DD, for what does not say when it was recorded
 */
export function asBuilt(planned: readonly Feature[], brought: readonly Feature[], today: string): Built {
  const open = planned.filter((feature) => jobKindOf(feature) !== null && doneOn(feature) === null);
  const byName = new Map(
    open.flatMap((feature) => [feature.id, feature.name ?? ''].map((name) => [tidy(name), feature] as const)),
  );
  byName.delete('');
  const built = new Map<string, Feature>();
  const parts = new Map<Feature, { rank: number; feature: Feature }[]>();
  const rest: Feature[] = [];
  for (const feature of brought) {
    const name = feature.name ?? '';
    const said = BUILT.test(name);
    const plain = name.replace(BUILT, '');
    const job = byName.get(tidy(plain)) ?? byName.get(tidy(name));
    const geometry = job && asShape(feature.geometry, shapeOf(job.geometry)!);
    if (job && geometry) {
      if (said || !isSame(geometry, job.geometry))
        built.set(job.id, finished(job, geometry, dayOf(feature) ?? today, feature.source));
      continue;
    }
    const part = PART.exec(plain);
    const whole = part && byName.get(tidy(plain.slice(0, part.index)));
    if (whole && feature.geometry.type === 'Point' && shapeOf(whole.geometry) !== 'Point')
      parts.set(whole, [...(parts.get(whole) ?? []), { rank: rankOf(part), feature }]);
    else rest.push(feature);
  }
  for (const [job, points] of parts) {
    points.sort((a, b) => a.rank - b.rank);
    const line = points.map(({ feature }) => (feature.geometry as GeoJSON.Point).coordinates);
    const geometry = shapeOf(job.geometry) === 'Polygon' ? ring(line) : path(line);
    const last = points.at(-1)!.feature;
    if (geometry) built.set(job.id, finished(job, geometry, dayOf(last) ?? today, last.source));
    else rest.push(...points.map(({ feature }) => feature));
  }
  return { built: [...built.values()], rest };
}

function rankOf([, word, number]: RegExpExecArray): number {
  if (FIRST.test(word!)) return -1;
  if (LAST.test(word!)) return Number.POSITIVE_INFINITY;
  return Number(/^\d/.test(word!) ? word : (number ?? 0));
}

function finished(job: Feature, geometry: Geometry, done: string, source: string): Feature {
  const { variant: _, ...attributes } = job.attributes;
  const [length, area] = [lengthOf(job.geometry), areaOf(job.geometry)];
  return {
    ...job,
    status: 'existing',
    geometry,
    attributes: {
      ...attributes,
      ...(area > 0 ? { plannedArea: area } : length > 0 ? { plannedLength: length } : {}),
      done,
    },
    source,
  };
}

/** A day the file itself gives: of a walk its start, of a point its time. */
const dayOf = ({ attributes: { started, time, done } }: Feature): string | null =>
  dayGiven(started ?? time ?? done);

/** A geometry as the kind of shape the plan has; null where it cannot be that. */
function asShape(geometry: Geometry, shape: Shape): Geometry | null {
  if (shapeOf(geometry) === shape) return geometry;
  if (shape === 'Polygon' && geometry.type === 'LineString') return ring(geometry.coordinates);
  return null;
}

const path = (line: Position[]): Geometry | null =>
  line.length >= 2 ? { type: 'LineString', coordinates: line } : null;

function ring(line: Position[]): Geometry | null {
  const [a, b] = [line[0]!, line.at(-1)!];
  const closed = a[0] === b[0] && a[1] === b[1] ? line : [...line, a];
  return closed.length >= 4 ? { type: 'Polygon', coordinates: [closed] } : null;
}

const positionsOf = (geometry: Geometry): Position[] =>
  geometry.type === 'GeometryCollection'
    ? geometry.geometries.flatMap(positionsOf)
    : ((geometry.type === 'Point' ? [geometry.coordinates] : geometry.coordinates).flat(
        geometry.type === 'MultiPolygon' ? 2 : /^(Polygon|MultiLineString)$/.test(geometry.type) ? 1 : 0,
      ) as Position[]);

function isSame(a: Geometry, b: Geometry): boolean {
  const [p, q] = [positionsOf(a), positionsOf(b)];
  return p.length === q.length && p.every(([x, y], i) => Math.hypot(x! - q[i]![0]!, y! - q[i]![1]!) <= SAME);
}
