import type { Geometry, Position } from 'geojson';
import type { RawFeature } from './raw.ts';

/** More points than this tell nothing more of where somebody walked. */
const MOST_POINTS = 1200;

/**
 * A GPX track as one walk a segment: its points thinned evenly, and when each was reached. Attributes: `started`
 * (ISO 8601, UTC) and `seconds` (whole seconds since then, one a point, with commas between); neither where the
 * track carries no times.
 */
export function walksOf({ geometry, properties, ...rest }: RawFeature): RawFeature[] {
  const { coordinateProperties, ...plain } = properties;
  const times = (coordinateProperties as { times?: unknown } | undefined)?.times;
  return segmentsOf(geometry, times).map(({ line, at }) => {
    const step = Math.max(1, Math.ceil(line.length / MOST_POINTS));
    const kept = line.map((_, i) => i).filter((i) => i % step === 0 || i === line.length - 1);
    const seconds = at && kept.map((i) => Math.round((at[i]! - at[0]!) / 1000));
    return {
      ...rest,
      geometry: { type: 'LineString', coordinates: kept.map((i) => line[i]!) },
      properties: {
        ...plain,
        ...(at && seconds ? { started: new Date(at[0]!).toISOString(), seconds: seconds.join() } : {}),
      },
    };
  });
}

interface Segment {
  line: Position[];
  /** ms since 1970 UTC, never falling; null where a point has no time. */
  at: number[] | null;
}

function segmentsOf(geometry: Geometry, times: unknown): Segment[] {
  const lines =
    geometry.type === 'LineString'
      ? [geometry.coordinates]
      : geometry.type === 'MultiLineString'
        ? geometry.coordinates
        : [];
  const lists = geometry.type === 'LineString' ? [times] : Array.isArray(times) ? times : [];
  return lines
    .map((line, i) => ({ line, at: timesOf(lists[i], line.length) }))
    .filter(({ line }) => line.length > 1);
}

function timesOf(list: unknown, length: number): number[] | null {
  if (!Array.isArray(list) || list.length !== length) return null;
  const at = list.map((time) => Date.parse(String(time)));
  const rises = at.every((time, i) => Number.isFinite(time) && (i === 0 || time >= at[i - 1]!));
  return rises ? at : null;
}
