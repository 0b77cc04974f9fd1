import { canopyForAir } from '../../../core/air/canopy.ts';
import { airClock } from '../../../core/air/clock.ts';
import { localWind, type WindGround, windGround } from '../../../core/air/local-wind.ts';
import { type LayerAt, nearGround, stillPools, windowRound } from '../../../core/air/near-ground.ts';
import { CRUISING, type Season, seasonWind } from '../../../core/air/season.ts';
import type { stabilityOf } from '../../../core/air/stability.ts';
import type { Units } from '../../../core/features/units.ts';
import { cellAt, type Grid } from '../../../core/grid/frame.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { part } from '../../../core/grid/progress.ts';
import { REACH, scentOf } from '../../../core/stands/scent.ts';
import { scentStudy, seasonAir } from '../../../core/stands/scent-study.ts';
import { summarize } from '../../../core/stands/scent-summary.ts';
import type { Subject } from '../../../core/stands/subjects.ts';
import { defineInquiry } from './inquiry.ts';

/** The wind of a season by part of day and sector. */
export const rose = defineInquiry({
  needs: ['elevation', 'wind'],
  run({ elevation, wind }, { season }: { season: Season | null }) {
    const { longitude, latitude } = elevation.frame;
    return { table: wind && seasonWind(wind, longitude, latitude, season), kept: wind?.notes ?? [] };
  },
});

/** The ground made ready for winds of the day and of a stable night; kept by the service. */
export const winds = defineInquiry({
  needs: ['elevation', 'cover', 'canopy'],
  run({ elevation, cover, canopy }, _: null, progress) {
    const shares = canopyForAir(canopy, cover);
    const neutral = windGround(elevation, shares);
    progress(0.5);
    return { neutral, stable: windGround(elevation, shares, true) };
  },
});

/** Wind the night is run under, m/s: what is left of a breeze after sunset. */
const NIGHT_WIND = 0.5;

/** The cold air of the night that follows a noon, hour by hour; kept by the service. */
export const night = defineInquiry({
  needs: ['elevation', 'cover', 'canopy'],
  run({ elevation, cover, canopy }, { noon, cooling }: { noon: number; cooling: number }, progress) {
    const clock = airClock(
      elevation,
      cover,
      canopyForAir(canopy, cover),
      noon,
      cooling,
      () => ({ wind: NIGHT_WIND, cloud: 0 }),
      progress,
    );
    return { ...clock, wind: NIGHT_WIND };
  },
});

/** The air of one hour. */
export interface HourAir {
  /** Made ready for the stability of the hour; null in a calm. */
  ground: WindGround | null;
  /** The cold layer; null where there is none. */
  layer: LayerAt | null;
  /** Bearing the wind comes from, degrees from grid north. */
  from: number;
  speed: number;
  kind: ReturnType<typeof stabilityOf>;
}

const localOf = ({ ground, from }: HourAir) => ground && localWind(ground, from, 1).field;

/** Arrows along a side of the map. */
const LATTICE = 24;

/** Wind and cold air together over the whole map. */
export const hour = defineInquiry({
  needs: ['elevation', 'poolDepth'],
  run({ elevation, poolDepth }, air: HourAir, progress) {
    const { frame } = elevation;
    const local = localOf(air);
    progress(0.7);
    const over = local?.frame ?? air.layer?.frame ?? frame;
    const near = nearGround(over, local, air.speed, air.layer);
    if (air.kind === 'calm drainage') stillPools(near, poolDepth);
    const { east, south } = near.field;
    const step = Math.max(1, Math.round(Math.max(over.width, over.height) / LATTICE));
    const arrows: { x: number; y: number; east: number; north: number; held: number }[] = [];
    for (let y = step >> 1; y < over.height; y += step)
      for (let x = step >> 1; x < over.width; x += step) {
        const i = y * over.width + x;
        const at = [over.west + (x + 0.5) * over.cellSize, over.north - (y + 0.5) * over.cellSize] as const;
        const cell = cellAt(frame, ...at);
        if (cell < 0 || Number.isNaN(elevation.cells[cell]!)) continue;
        arrows.push({ x: at[0], y: at[1], east: east[i]!, north: -south[i]!, held: near.held[i]! });
      }
    let held = 0;
    for (const share of near.held) held += share;
    return { arrows, held: held / near.held.length };
  },
});

/** Scent let go at a spot in the air of one hour. */
export const scent = defineInquiry({
  needs: ['elevation', 'poolDepth', 'areas', 'travelAreas', 'routes', 'channels', 'features'],
  run(inputs, { subject, air, units }: { subject: Subject; air: HourAir; units: Units }, progress) {
    const { frame, cells } = inputs.elevation;
    const here = cellAt(frame, ...subject.at);
    if (here < 0 || Number.isNaN(cells[here]!))
      throw new Problem('There is no ground at that spot.', { fix: 'Click on ground inside the map.' });
    const local = localOf(air);
    progress(0.5);
    const near = nearGround(windowRound(frame, subject.at, REACH), local, air.speed, air.layer);
    if (air.kind === 'calm drainage') stillPools(near, inputs.poolDepth);
    const found = scentOf(subject, near, air.kind, inputs, units, 1);
    return { ...found, arrivals: arrivals(found.dilution, found.age, subject.at) };
  },
});

/** How far out travel times are told, m. */
const RINGS = [50, 100, 200, 400];

/** Mean time since release at some distances, weighted by how much scent is there, s; null where none came. */
function arrivals(dilution: Grid, age: Grid, [x0, y0]: readonly [number, number]) {
  const { frame } = dilution;
  const sums = RINGS.map(() => ({ weight: 0, time: 0 }));
  for (let y = 0, i = 0; y < frame.height; y++)
    for (let x = 0; x < frame.width; x++, i++) {
      const weight = dilution.cells[i]!;
      if (!(weight > 0) || Number.isNaN(age.cells[i]!)) continue;
      const distance = Math.hypot(
        frame.west + (x + 0.5) * frame.cellSize - x0,
        frame.north - (y + 0.5) * frame.cellSize - y0,
      );
      const ring = RINGS.findIndex((out) => Math.abs(distance - out) <= frame.cellSize);
      if (ring < 0) continue;
      sums[ring]!.weight += weight;
      sums[ring]!.time += weight * age.cells[i]!;
    }
  return RINGS.map((distance, k) => ({
    distance,
    seconds: sums[k]!.weight > 0 ? sums[k]!.time / sums[k]!.weight : null,
  }));
}

/** One stand under every wind at every part of a day of the cruising weeks. */
export const stand = defineInquiry({
  needs: [
    'elevation',
    'cover',
    'canopy',
    'poolDepth',
    'wind',
    'areas',
    'travelAreas',
    'routes',
    'channels',
    'features',
  ],
  run(
    inputs,
    { subject, noon, cooling, units }: { subject: Subject; noon: number; cooling: number; units: Units },
    progress,
  ) {
    const study = { ...inputs, ground: inputs };
    const air = seasonAir(study, CRUISING, noon, cooling, part(progress, 0, 0.4));
    const cases = scentStudy(subject, study, air, units, part(progress, 0.4, 1));
    return { cases, summary: summarize(cases), notes: air.notes };
  },
});
