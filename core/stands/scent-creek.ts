import type { Holding } from '../air/creek.ts';
import type { NearGround } from '../air/near-ground.ts';
import { ofKind } from '../features/feature.ts';
import { pathsOf } from '../features/shapes.ts';
import type { Units } from '../features/units.ts';
import { cellAt, type Grid, type Point } from '../grid/frame.ts';
import type { ChannelStation } from '../terrain/types.ts';
import { footOn } from '../travel/barriers.ts';
import { holdingAt, measured } from './creek-holding.ts';
import { NOSE_THRESHOLD } from './nose.ts';
import type { ScentGround } from './scent-types.ts';

/** What scent does in the creek it follows. */
export interface CreekScent {
  /** Length between banks that hold it, from where it comes in, and of all the creek it touches, m. */
  held: number;
  touched: number;
  /** How long it takes between banks that hold it, s; 0 where none do. */
  seconds: number;
  /** The first reach on its way that does not hold it; null where all do. */
  ends: Holding | null;
  /** Where it rises over the banks again; null where it never was below them, or stays there. */
  spill: Point | null;
  /** The creek turns sharply where it spills. */
  atBend: boolean;
  /** What the criterion was fed with where it ends, or at the first reach where all hold. */
  values: string;
}

/** A drawn creek speaks for channels this near, m. */
const CREEK_NEAR = 15;
/** Slower air is not timed, m/s. */
const STILL = 0.05;
/** A creek that turns by more than this between two stations bends, degrees: our assumption. */
const BEND = 35;

interface Touched {
  place: number;
  /** When scent comes to it, s after it was let go. */
  age: number;
  length: number;
  /** How long the air there takes to pass it, s. */
  passing: number;
  holding: Holding;
}

/**
 * Stations of channel in the scent, judged one by one for the wind across them there and followed in the order scent
 * comes to them, along the line that most of it follows. A draw whose depth is not known is no creek unless one is
 * drawn there. Water takes its depth from the room between the banks.
 *
 * @param age mean time since release, s, cells of the dilution
 */
export function scentInCreek(
  { frame, cells }: Grid,
  age: Float32Array,
  air: NearGround,
  { channels, features, water }: Pick<ScentGround, 'channels' | 'features' | 'water'>,
  units: Units,
): CreekScent | null {
  const creeks = ofKind(features, 'creek').flatMap(({ geometry }) => pathsOf(geometry));
  const lines = new Map<string, Touched[]>();
  channels.forEach((station, place) => {
    const i = cellAt(frame, station.at[0], station.at[1]);
    if (i < 0 || cells[i]! < NOSE_THRESHOLD.usual) return;
    if (
      !measured(station) &&
      !creeks.some((path) => (footOn(path, station.at)?.distance ?? Infinity) < CREEK_NEAR)
    )
      return;
    const next = beside(channels, place, 1) ?? beside(channels, place, -1);
    const heading = next ? Math.atan2(next.at[0] - station.at[0], station.at[1] - next.at[1]) : 0;
    // Of the wind's east and south parts, what blows across the channel's line.
    const crossWind = Math.abs(
      air.field.east[i]! * Math.cos(heading) - air.field.south[i]! * Math.sin(heading),
    );
    const length = next ? Math.abs(next.along - station.along) : 0;
    const holding = holdingAt(station, { crossWind, deficit: air.deficit[i]! }, water, units);
    const line = lines.get(station.line) ?? [];
    lines.set(station.line, line);
    const passing = length / Math.max(STILL, Math.hypot(air.field.east[i]!, air.field.south[i]!));
    line.push({ place, age: age[i]!, length, passing, holding });
  });
  const lengthOf = (line: readonly Touched[]) => line.reduce((sum, { length }) => sum + length, 0);
  const most = [...lines.values()].reduce<Touched[] | null>(
    (best, line) => (best && lengthOf(best) >= lengthOf(line) ? best : line),
    null,
  );
  if (!most) return null;
  most.sort((a, b) => a.age - b.age || a.place - b.place);
  const first = most.findIndex(({ holding }) => holding.holds !== 'holds');
  const stop = first < 0 ? null : most[first]!;
  return {
    held: lengthOf(first < 0 ? most : most.slice(0, first)),
    touched: lengthOf(most),
    seconds: stop
      ? Math.max(0, stop.age - most[0]!.age)
      : most.at(-1)!.age - most[0]!.age + most.at(-1)!.passing,
    ends: stop?.holding ?? null,
    spill: stop && first > 0 ? channels[stop.place]!.at : null,
    atBend: stop !== null && bendAt(channels, stop.place) > BEND,
    values: (stop ?? most[0]!).holding.values,
  };
}

/** The station before or after one on the same line. */
function beside(channels: readonly ChannelStation[], place: number, by: 1 | -1): ChannelStation | null {
  const other = channels[place + by];
  return other?.line === channels[place]!.line ? other : null;
}

/** By how much the channel turns at a station, degrees. */
function bendAt(channels: readonly ChannelStation[], place: number): number {
  const before = beside(channels, place, -1);
  const after = beside(channels, place, 1);
  if (!before || !after) return 0;
  const [x, y] = channels[place]!.at;
  const came = Math.atan2(x - before.at[0], y - before.at[1]);
  const goes = Math.atan2(after.at[0] - x, after.at[1] - y);
  return Math.abs(((((goes - came) * 180) / Math.PI + 540) % 360) - 180);
}
