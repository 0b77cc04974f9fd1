import { canopyForAir } from '../air/canopy.ts';
import { type AirClock, airClock } from '../air/clock.ts';
import { localWind, type WindGround, windGround } from '../air/local-wind.ts';
import { type LayerAt, nearGround, stillPools, windowRound } from '../air/near-ground.ts';
import type { WindField } from '../air/particles.ts';
import {
  DAY_PARTS,
  type DayPart,
  type Interval,
  type PartTable,
  type Season,
  seasonWind,
} from '../air/season.ts';
import { stabilityOf } from '../air/stability.ts';
import { solarTime, sunAt, sunriseSunset } from '../air/sun.ts';
import type { WindRecord } from '../air/types.ts';
import { SECTORS } from '../air/types.ts';
import type { Units } from '../features/units.ts';
import type { Frame, Grid } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { REACH, type ScentFinding, type ScentGround, scentOf } from './scent.ts';
import type { Subject } from './subjects.ts';

/** One stand under one wind at one part of the day. */
export interface ScentCase {
  stand: string;
  part: DayPart;
  /** One of the 16 points, or `calm`. */
  wind: string;
  /** m/s. */
  speed: number;
  /** Share of the season's hours of this part with this wind, with its interval; null without a record. */
  share: Interval;
  /** Share of the sky covered. */
  cloud: number;
  air: ReturnType<typeof stabilityOf>;
  finding: Omit<ScentFinding, 'dilution' | 'age'>;
}

export interface StudyInputs {
  elevation: Grid;
  cover: Grid<Uint8Array>;
  canopy: Grid;
  /** Still pools at the end of a clear calm night, m. */
  poolDepth: Grid;
  wind: WindRecord | null;
  ground: ScentGround;
}

/** Where a record is silent, each wind is taken at this speed, m/s: our assumption. */
const SPEED_UNKNOWN = 3;
/** Wind the night's clock is run under, m/s: what is left of a breeze after sunset. */
export const CLOCK_WIND = 0.5;
/** Slower wind counts as calm, m/s. */
const CALM = 0.5;

/** What the air of a place is made from that does not hang on the season's winds: see `seasonAirOf`. */
export interface PlaceAir {
  clock: Pick<AirClock, 'ground' | 'hours'>;
  neutral: WindGround;
  stable: WindGround;
}

/** Air of the place in one season, made once for all stands. */
export interface SeasonAir {
  parts: PartTable[] | null;
  neutral: WindGround;
  stable: WindGround;
  /** Cold layer and slope wind at each part's hour. */
  layers: Record<DayPart, LayerAt>;
  /** A representative hour of each part, hours since 1970, with the sun's height then and whether it is night by Turner's rule. */
  at: Record<DayPart, { hours: number; sunHeight: number; night: boolean }>;
  /** Local winds made so far. */
  fields: Record<string, WindField>;
  notes: string[];
}

/**
 * The air of a season at its middle day.
 *
 * @param noon any time of the day the season is stood for by, hours since 1970-01-01T00Z
 * @param cooling loss of open ground on a clear calm night, W/m2
 */
export function seasonAir(
  inputs: Omit<StudyInputs, 'ground' | 'poolDepth'>,
  season: Season,
  noon: number,
  cooling: number,
  progress: Progress = silent,
): SeasonAir {
  const { elevation, cover } = inputs;
  const canopy = canopyForAir(inputs.canopy, cover);
  const before = solarNoon(noon, elevation.frame.longitude) - 24;
  const weather = () => ({ wind: CLOCK_WIND, cloud: 0 });
  const clock = airClock(elevation, cover, canopy, before, cooling, weather, progress);
  const place = {
    clock,
    neutral: windGround(elevation, canopy),
    stable: windGround(elevation, canopy, true),
  };
  return seasonAirOf(inputs, season, noon, place);
}

/**
 * The same from air that is kept.
 *
 * @param place its clock that of the night before the day, run under `CLOCK_WIND` and a clear sky
 */
export function seasonAirOf(
  { elevation, wind }: Pick<StudyInputs, 'elevation' | 'wind'>,
  season: Season,
  noon: number,
  { clock, neutral, stable }: PlaceAir,
): SeasonAir {
  const { longitude, latitude } = elevation.frame;
  const midday = solarNoon(noon, longitude);
  const sun = sunriseSunset(midday, longitude, latitude);
  const rise = sun?.rise ?? midday - 6;
  const set = sun?.set ?? midday + 6;
  const hourOf: Record<DayPart, number> = {
    'before sunrise': rise - 0.75,
    morning: rise + 1.5,
    midday,
    evening: set - 0.75,
    night: midday - 12,
  };
  const at = {} as SeasonAir['at'];
  const layers = {} as SeasonAir['layers'];
  for (const part of DAY_PARTS) {
    const hours = hourOf[part];
    at[part] = {
      hours,
      sunHeight: sunAt(hours, longitude, latitude).height,
      night: hours < rise + 1 || hours > set - 1,
    };
    // The clock runs from the afternoon before to noon: the evening of the day itself is that of the day before.
    const wanted = part === 'evening' ? hours - 24 : hours;
    const hour = clock.hours.reduce((best, next) =>
      Math.abs(next.hours - wanted) < Math.abs(best.hours - wanted) ? next : best,
    );
    layers[part] = { ...hour, frame: clock.ground.frame, wind: CLOCK_WIND };
  }
  const table = wind ? seasonWind(wind, longitude, latitude, season) : null;
  return {
    parts: table?.parts ?? null,
    neutral,
    stable,
    layers,
    at,
    fields: {},
    notes: table?.notes ?? ['No wind record: every wind is taken at the same speed and none is likelier.'],
  };
}

const solarNoon = (noon: number, longitude: number): number => noon - solarTime(noon, longitude) + 12;

/** Every wind and part of day at one stand: 16 points and calm, five parts. Same input, same bits. */
export function scentStudy(
  subject: Subject,
  inputs: StudyInputs,
  air: SeasonAir,
  units: Units,
  progress: Progress = silent,
): ScentCase[] {
  const { frame } = inputs.elevation;
  const window = windowRound(frame, subject.at, REACH);
  const cases: ScentCase[] = [];
  DAY_PARTS.forEach((part, p) => {
    WINDS.forEach((wind, k) => {
      progress((p + k / WINDS.length) / DAY_PARTS.length);
      const { near, kind, speed, share, cloud } = airOfCase(air, inputs, window, part, k);
      const { dilution, age, ...finding } = scentOf(
        subject,
        near,
        kind,
        inputs.ground,
        units,
        seedOfCase(part, k),
      );
      cases.push({ stand: subject.id, part, wind, speed, share, cloud, air: kind, finding });
    });
  });
  progress(1);
  return cases;
}

/** The winds of a case: 16 points by where it blows from, and the calm. */
export const WINDS: readonly string[] = [...SECTORS, 'calm'];

/** Every case has a seed of its own, so that each can be computed alone. */
export const seedOfCase = (part: DayPart, wind: number): number => 1 + wind + 32 * DAY_PARTS.indexOf(part);

/** The wind of one case, its share of the part's hours, and what the air is then. */
function windOfCase(
  air: SeasonAir,
  part: DayPart,
  wind: number,
): Pick<ScentCase, 'speed' | 'share' | 'cloud'> & { kind: ScentCase['air'] } {
  const { sunHeight, night } = air.at[part];
  const table = air.parts?.[DAY_PARTS.indexOf(part)];
  const calm = WINDS[wind] === 'calm';
  const sector = table?.sectors[wind];
  const speed = calm ? 0 : (sector?.speed ?? SPEED_UNKNOWN);
  const share = (calm ? table?.calmShare : sector?.share) ?? UNKNOWN_SHARE;
  // Where the record has no cloud the sky is taken as clear, which keeps most scent low.
  const cloud = (calm ? table?.calmCloud : sector?.cloud) ?? 0;
  return { speed, share, cloud, kind: stabilityOf(speed, sunHeight, night, 10 * cloud) };
}

const UNKNOWN_SHARE: Interval = { share: null, low: 0, high: 1 };

/** Makes the local winds the cases of some parts of the day need, so that no stand waits for them. */
export function makeWinds(
  air: SeasonAir,
  parts: readonly DayPart[],
  convergence: number,
  progress: Progress,
): void {
  parts.forEach((part, p) => {
    SECTORS.forEach((_, wind) => {
      localOfCase(air, part, wind, convergence);
      progress((p + (wind + 1) / SECTORS.length) / parts.length);
    });
  });
}

function localOfCase(air: SeasonAir, part: DayPart, wind: number, convergence: number): WindField | null {
  const { speed, kind } = windOfCase(air, part, wind);
  return speed < CALM ? null : fieldOf(air, wind, air.at[part].night && kind !== 'D', convergence);
}

/** The air near the ground of one wind at one part of the day, on a window round a stand. */
export function airOfCase(
  air: SeasonAir,
  { elevation, poolDepth }: Pick<StudyInputs, 'elevation' | 'poolDepth'>,
  window: Frame,
  part: DayPart,
  wind: number,
) {
  const { speed, share, cloud, kind } = windOfCase(air, part, wind);
  const local = localOfCase(air, part, wind, elevation.frame.convergence);
  const near = nearGround(window, local, speed, air.layers[part], cloud);
  // Before sunset pools have hardly begun to gather.
  if (kind === 'calm drainage' && part !== 'evening') stillPools(near, poolDepth);
  return { near, kind, speed, share, cloud };
}

/** The local wind near the ground for 1 m/s from a sector, made once. */
function fieldOf(air: SeasonAir, sector: number, stable: boolean, convergence: number): WindField {
  const key = `${sector} ${stable}`;
  const known = air.fields[key];
  if (known) return known;
  // Records hold true directions; the grid's north is turned by the convergence.
  const from = (sector * 22.5 - convergence + 360) % 360;
  const { field } = localWind(stable ? air.stable : air.neutral, from, 1);
  air.fields[key] = field;
  return field;
}
