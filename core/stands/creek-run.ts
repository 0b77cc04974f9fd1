import type { Holding } from '../air/creek.ts';
import { type Feature, ofKind } from '../features/feature.ts';
import { pathsOf } from '../features/shapes.ts';
import type { Units } from '../features/units.ts';
import type { Point } from '../grid/frame.ts';
import type { ChannelStation } from '../terrain/types.ts';
import { footOn } from '../travel/barriers.ts';
import { holdingAt, measured } from './creek-holding.ts';
import type { CreekWater } from './creek-stage.ts';

/** How a carry fares in the channels it follows. */
export interface CreekRun {
  /** Where it comes to the first of them, m along the carry. */
  after: number;
  /** Length between banks that hold it, m. */
  held: number;
  /** The first reach that does not, and where along the carry; null where all hold. */
  ends: { holding: Holding; after: number } | null;
}

/** A carry within this of a channel is in it, and a drawn creek speaks for channels this near, m. */
const NEAR = 15;
/** The air of a clear calm night over a creek: what stirs across it, m/s, and how cold its air is, K. Our assumption. */
const STILL_NIGHT = { crossWind: 0.5, deficit: 2 };

/**
 * Whether the channels a carry follows hold the air between their banks on a clear calm night, reach by reach
 * (`creekHolds`). A draw of unknown depth is no creek unless one is drawn there. Water takes its depth from the room
 * between the banks.
 */
export function creekRun(
  path: readonly Point[],
  channels: readonly ChannelStation[],
  features: readonly Feature[],
  units: Units,
  water?: CreekWater,
): CreekRun | null {
  const creeks = ofKind(features, 'creek').flatMap(({ geometry }) => pathsOf(geometry));
  const met = channels
    .flatMap((station, k) => {
      const foot = footOn(path, station.at);
      if (!foot || foot.distance > NEAR) return [];
      if (
        !measured(station) &&
        !creeks.some((creek) => (footOn(creek, station.at)?.distance ?? Infinity) <= NEAR)
      )
        return [];
      const next = [channels[k + 1], channels[k - 1]].find((other) => other?.line === station.line);
      return [
        {
          after: foot.along,
          length: next ? Math.abs(next.along - station.along) : 0,
          holding: holdingAt(station, STILL_NIGHT, water, units),
        },
      ];
    })
    .sort((a, b) => a.after - b.after);
  if (met.length === 0) return null;
  const stop = met.find(({ holding }) => holding.holds !== 'holds');
  const until = stop?.after ?? Number.POSITIVE_INFINITY;
  return {
    after: met[0]!.after,
    held: met.reduce((sum, { after, length }) => (after < until ? sum + length : sum), 0),
    ends: stop ? { holding: stop.holding, after: stop.after } : null,
  };
}
