import type { Point } from '../grid/frame.ts';
import type { Feature } from './feature.ts';

/** A clock that is off by less, or a walk begun late, still places what was recorded. Our assumption. */
const SLACK = 120;

/**
 * Where somebody was at a moment, by a walk whose points carry times: between two points in proportion to time, at
 * its ends for up to two minutes before and after.
 *
 * @param time seconds since 1970 UTC
 * @returns m in the frame's CRS, or null when no walk was under way then
 */
export function placeAt(walks: readonly Feature[], time: number): Point | null {
  for (const { geometry, attributes } of walks) {
    if (geometry.type !== 'LineString' || typeof attributes.started !== 'string') continue;
    const seconds = String(attributes.seconds ?? '')
      .split(',')
      .map(Number);
    const line = geometry.coordinates as Point[];
    if (seconds.length !== line.length) continue;
    const since = time - Date.parse(attributes.started) / 1000;
    const last = seconds.length - 1;
    if (!(since >= -SLACK && since <= seconds[last]! + SLACK)) continue;
    const next = seconds.findIndex((at) => at >= since);
    if (next <= 0) return line[next === 0 ? 0 : last]!;
    const [a, b] = [line[next - 1]!, line[next]!];
    const share = (since - seconds[next - 1]!) / (seconds[next]! - seconds[next - 1]!);
    return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
  }
  return null;
}
