import { blockMean, coarserFrame } from '../../../core/air/air-grid.ts';
import { canopyForAir } from '../../../core/air/canopy.ts';
import { airClock, type Cloud, cloudAt } from '../../../core/air/clock.ts';
import { localWind, type WindGround, windGround } from '../../../core/air/local-wind.ts';
import {
  type LayerAt,
  type NearGround,
  nearGround,
  stillPools,
  windowRound,
} from '../../../core/air/near-ground.ts';
import type { WindField } from '../../../core/air/particles.ts';
import { poolsAt } from '../../../core/air/pools-at.ts';
import { recordSpan } from '../../../core/air/record.ts';
import { type Season, seasonWind, TOGETHER } from '../../../core/air/season.ts';
import type { stabilityOf } from '../../../core/air/stability.ts';
import type { Units } from '../../../core/features/units.ts';
import { cellAt, type Frame, type Grid, type Point } from '../../../core/grid/frame.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { part } from '../../../core/grid/progress.ts';
import { deerSeason } from '../../../core/stands/deer-season.ts';
import { bedSpots, deerWinds, sharedWinds, travelWinds } from '../../../core/stands/deer-wind.ts';
import { REACH, scentOf, shearedCarry } from '../../../core/stands/scent.ts';
import { type PlaceAir, scentStudy, seasonAirOf } from '../../../core/stands/scent-study.ts';
import { summarize } from '../../../core/stands/scent-summary.ts';
import { scentAlong, windowAlong } from '../../../core/stands/scent-way.ts';
import type { Subject } from '../../../core/stands/subjects.ts';
import type { CreekStage } from '../../../core/stands/types.ts';
import type { AirLattice } from '../../service/air-answers.ts';
import { defineInquiry } from './inquiry.ts';

/** The wind of a season by part of day and sector. */
export const rose = defineInquiry({
  needs: ['elevation', 'wind'],
  run({ elevation, wind }, { season }: { season: Season | null }) {
    const { longitude, latitude } = elevation.frame;
    return {
      table: wind && seasonWind(wind, longitude, latitude, season, TOGETHER),
      span: wind && recordSpan(wind),
      kept: wind?.notes ?? [],
    };
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

/** The air of the day that follows a noon, hour by hour, under one wind and cloud; kept by the service. */
export const night = defineInquiry({
  needs: ['elevation', 'cover', 'canopy'],
  run(
    { elevation, cover, canopy },
    { noon, cooling, wind, cloud }: { noon: number; cooling: number; wind: number; cloud: Cloud },
    progress,
  ) {
    const clock = airClock(
      elevation,
      cover,
      canopyForAir(canopy, cover),
      noon,
      cooling,
      (hours) => ({ wind, cloud: cloudAt(cloud, hours, elevation.frame.longitude) }),
      progress,
    );
    return { ...clock, wind };
  },
});

/** The air of one hour. */
export interface HourAir {
  /** Made ready for the stability of the hour; null in a calm. */
  ground: WindGround | null;
  /** What cold and warm ground does then. */
  layer: LayerAt;
  /** Bearing the wind comes from, degrees from grid north. */
  from: number;
  speed: number;
  /** Share of the sky covered. */
  cloud: number;
  kind: ReturnType<typeof stabilityOf>;
  /** Share of what they hold at the end of the night that pools hold by then. */
  filled: number;
}

export const localOf = ({ ground, from }: HourAir) => ground && localWind(ground, from, 1).field;

export function airNear(frame: Frame, local: WindField | null, air: HourAir, pools: Grid | null): NearGround {
  const near = nearGround(frame, local, air.speed, air.layer, air.cloud);
  if (pools) stillPools(near, pools);
  return near;
}

/** Pools of the hour: hollows hold still air while nothing but drainage moves it. */
export const poolsOf = (air: HourAir, elevation: Grid, poolDepth: Grid): Grid | null =>
  air.kind === 'calm drainage' ? poolsAt(elevation, poolDepth, air.filled) : null;

/** Cells of the hour's picture of pools are at least this, m: a day of them is kept. */
const PICTURE = 5;

function pictureOf(pools: Grid | null): Grid | null {
  if (!pools?.cells.some((depth) => depth > 0)) return null;
  const by = Math.ceil(PICTURE / pools.frame.cellSize);
  return by <= 1 ? pools : blockMean(pools, coarserFrame(pools.frame, by));
}

/** Places along a side of the map at which its air is told. */
const LATTICE = 64;
/** Air slower than this has no way that is known, m/s: our assumption, the one scent hangs by. */
const STILL = 0.15;

/** Wind and cold air together over the whole map. */
export const hour = defineInquiry({
  needs: ['elevation', 'poolDepth'],
  run({ elevation, poolDepth }, air: HourAir, progress) {
    const local = localOf(air);
    progress(0.7);
    const pools = poolsOf(air, elevation, poolDepth);
    const near = airNear(local?.frame ?? air.layer.frame, local, air, pools);
    let held = 0;
    for (const share of near.held) held += share;
    return { arrows: latticeOf(near, elevation), held: held / near.held.length, pools: pictureOf(pools) };
  },
});

function latticeOf({ field, held }: NearGround, elevation: Grid): AirLattice {
  const { frame, east, south, eddies } = field;
  const stride = Math.max(1, Math.round(Math.max(frame.width, frame.height) / LATTICE));
  const first = stride >> 1;
  const count = (cells: number) => Math.max(1, Math.ceil((cells - first) / stride));
  const lattice: AirLattice = {
    west: frame.west + (first + 0.5) * frame.cellSize,
    north: frame.north - (first + 0.5) * frame.cellSize,
    step: stride * frame.cellSize,
    columns: count(frame.width),
    rows: count(frame.height),
    speed: [],
    towards: [],
    held: [],
  };
  for (let row = 0; row < lattice.rows; row++)
    for (let column = 0; column < lattice.columns; column++) {
      const i = (first + row * stride) * frame.width + first + column * stride;
      const at = [lattice.west + column * lattice.step, lattice.north - row * lattice.step] as const;
      const cell = cellAt(elevation.frame, ...at);
      const known = cell >= 0 && !Number.isNaN(elevation.cells[cell]!);
      const speed = Math.hypot(east[i]!, south[i]!);
      const towards = Math.round((Math.atan2(east[i]!, -south[i]!) * 180) / Math.PI + 360) % 360;
      lattice.speed.push(known ? Math.round(speed * 100) / 100 : null);
      lattice.towards.push(known && speed >= STILL && eddies[i] === 0 ? towards : null);
      lattice.held.push(Math.round(held[i]! * 100) / 100);
    }
  return lattice;
}

/** Scent let go at a spot in the air of one hour. */
export const scent = defineInquiry({
  needs: ['elevation', 'accumulation', 'poolDepth', 'areas', 'travelAreas', 'routes', 'channels', 'features'],
  run(
    inputs,
    { subject, air, stage, units }: { subject: Subject; air: HourAir; stage: CreekStage; units: Units },
    progress,
  ) {
    const { frame, cells } = inputs.elevation;
    const here = cellAt(frame, ...subject.at);
    if (here < 0 || Number.isNaN(cells[here]!))
      throw new Problem('There is no ground at that spot.', { fix: 'Click on ground inside the map.' });
    const local = localOf(air);
    progress(0.5);
    const pools = poolsOf(air, inputs.elevation, inputs.poolDepth);
    const near = airNear(windowRound(frame, subject.at, REACH), local, air, pools);
    const ground = { ...inputs, water: { stage, accumulation: inputs.accumulation } };
    const found = scentOf(subject, near, air.kind, ground, units, 1);
    // In the still night's drainage no wind grows with height.
    const sheared = air.kind === 'calm drainage' ? null : shearedCarry(subject, near, air.kind, 1);
    return { ...found, sheared, arrivals: arrivals(found.dilution, found.age, subject.at) };
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

/** How far round a way its scent is looked for, m. */
const BESIDE_WAY = 500;

/** Scent along a way that is walked, in the air of one hour. */
export const wayScent = defineInquiry({
  needs: ['elevation', 'poolDepth', 'areas', 'travelAreas', 'routes'],
  run(
    inputs,
    { path, pace, air, units }: { path: Point[]; pace: number; air: HourAir; units: Units },
    progress,
  ) {
    const { frame } = inputs.elevation;
    if (!path.some(([x, y]) => cellAt(frame, x, y) >= 0))
      throw new Problem('None of that way lies on the map.', { fix: 'Choose a way inside the map.' });
    const local = localOf(air);
    progress(0.2);
    const pools = poolsOf(air, inputs.elevation, inputs.poolDepth);
    const near = airNear(windowAlong(frame, path, BESIDE_WAY), local, air, pools);
    return scentAlong(path, pace, near, air.kind, inputs, units, part(progress, 0.2, 1));
  },
});

/** One stand under every wind at every part of a day in a season, in air that is kept. */
export const stand = defineInquiry({
  needs: [
    'elevation',
    'accumulation',
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
    {
      subject,
      season,
      noon,
      place,
      stage,
      units,
    }: {
      subject: Subject;
      season: Season;
      noon: number;
      place: PlaceAir;
      stage: CreekStage;
      units: Units;
    },
    progress,
  ) {
    const air = seasonAirOf(inputs, season, noon, place);
    const { elevation, accumulation, areas, travelAreas, routes } = inputs;
    const ground = { ...inputs, water: { stage, accumulation } };
    const cases = scentStudy(subject, { ...inputs, ground }, air, units, progress);
    const winds = deerWinds(elevation.frame, routes, bedSpots(areas, travelAreas));
    return {
      cases,
      summary: summarize(cases),
      deer: travelWinds(winds, routes),
      shared: sharedWinds(cases, winds, routes),
      notes: air.notes,
    };
  },
});

/** How the trails lie to the winds, and where new bedding would be checked from one. */
export const trails = defineInquiry({
  needs: ['elevation', 'cover', 'wind', 'areas', 'travelAreas', 'routes', 'features'],
  run({ wind, ...inputs }, { season }: { season: Season | null }) {
    const { longitude, latitude } = inputs.elevation.frame;
    const { trails, winds, bedding } = deerSeason(
      inputs,
      wind && seasonWind(wind, longitude, latitude, season),
    );
    return {
      winds,
      bedding,
      trails: inputs.routes.map(({ id, from, to, share, path }) => ({
        route: id,
        from,
        to,
        share,
        path,
        winds: trails.flatMap(({ route, ...each }) => (route === id ? [each] : [])),
      })),
    };
  },
});
