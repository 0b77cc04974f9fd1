import type { NearGround } from '../air/near-ground.ts';
import { fieldShear, openWidths, releaseScent, type WindField } from '../air/particles.ts';
import type { StabilityClass } from '../air/plume.ts';
import type { Units } from '../features/units.ts';
import { cellAt, type Frame, type Grid, type Point } from '../grid/frame.ts';
import { roughly } from './coarse.ts';
import { NOSE_THRESHOLD } from './nose.ts';
import { scentInCreek } from './scent-creek.ts';
import { farthest, goesOn, mainBearing, travelThrough } from './scent-reading.ts';
import type { ScentFinding, ScentGround } from './scent-types.ts';
import { scentWords } from './scent-words.ts';
import type { Subject } from './subjects.ts';

export { NOSE_THRESHOLD } from './nose.ts';

/** Scent is followed this far, m. */
export const REACH = 800;
const PARTICLES = 4000;
/** And at least and at most so long, s: slow air takes longer to go as far. */
const LEAST_FOLLOWED = 900;
const MOST_FOLLOWED = 3600;
/** Steps of the walk, the shortest of them, s, and how many cells the fastest air may pass in one. */
const STEPS = 450;
const LEAST_STEP = 2;
const CELLS_A_STEP = 2;
/** Seat height where none is known, m: our assumption. */
const SEAT = 5;
/** Air slower than this at the stand carries scent nowhere, m/s: our assumption. */
const HANGS = 0.15;
/** Scent below this counts, m: the height dose is taken under. */
const BELOW = 2;

export type { ScentFinding, ScentGround } from './scent-types.ts';

/**
 * Releases scent at a stand into the air near the ground and reads off what it meets.
 *
 * @param air on a window round the stand
 * @param kind Pasquill class; drainage spreads as F
 */
export function scentOf(
  subject: Subject,
  air: NearGround,
  kind: StabilityClass | 'calm drainage',
  ground: ScentGround,
  units: Units,
  seed: number,
): ScentFinding {
  const { frame } = air.field;
  const { dilution, age, followed } = thinning(subject, air, kind, seed);
  const carry = byNose((threshold) => farthest(dilution, subject.at, threshold));
  const beyond = byNose((threshold) => goesOn(dilution, age, followed, threshold));
  const travel = byNose((threshold) => travelThrough(dilution, ground.routes, threshold));
  const bedding = beddingIn(dilution, ground);
  const bearing = mainBearing(dilution, subject.at);
  const hangs = airHangs(air, subject.at);
  const eddying = airEddies(air, subject.at);
  const creek = scentInCreek(dilution, age, air, ground, units);
  return {
    dilution,
    age: { frame, cells: age },
    followed,
    eddying,
    hangs,
    carry,
    beyond,
    bearing,
    travel,
    bedding,
    creek,
    verdict: roughly(
      frame.cellSize,
      scentWords({ hangs, eddying, carry, beyond, bearing, travel, bedding, creek }, units),
    ),
  };
}

/**
 * Scent near the ground in s/m3 of what is given off a second, and its mean age. Where the air eddies at the stand it
 * goes round there first: it is let go on a ring.
 *
 * @param air on a window round the stand
 * @param particles fewer for a first look: its grain is a step over the particles and the volume of a cell
 * @param shear wind by height (`fieldShear`); the field's at every height where left out
 * @returns dilution, mean age (s, NaN where none came) and how long it was followed, s
 */
export function thinning(
  subject: Pick<Subject, 'at' | 'seatHeight'>,
  air: NearGround,
  kind: StabilityClass | 'calm drainage',
  seed: number,
  particles = PARTICLES,
  shear?: (height: number) => number,
): { dilution: Grid; age: Float32Array; followed: number } {
  const { field } = air;
  const time = timesOf(field, subject.at);
  const scent = releaseScent(field, {
    from: airEddies(air, subject.at) ? ringRound(subject.at) : subject.at,
    height: subject.seatHeight ?? SEAT,
    particles,
    ...time,
    seed,
    width: openWidths(kind === 'calm drainage' ? 'F' : kind),
    ...(shear && { shear }),
  });
  return { dilution: dilutionOf(field.frame, scent.dose), age: scent.age, followed: time.seconds };
}

/** How far scent goes over the usual threshold, m, where it is carried by the wind of its height. */
export function shearedCarry(
  subject: Subject,
  air: NearGround,
  kind: StabilityClass | 'calm drainage',
  seed: number,
): number {
  const { dilution } = thinning(subject, air, kind, seed, PARTICLES, fieldShear);
  return farthest(dilution, subject.at, NOSE_THRESHOLD.usual);
}

/** How long scent is followed from a spot, and in which steps, s. */
function timesOf({ east, south, frame }: WindField, at: Point): { seconds: number; step: number } {
  let fastest = 0;
  for (let i = 0; i < east.length; i++) fastest = Math.max(fastest, east[i]! ** 2 + south[i]! ** 2);
  const here = cellAt(frame, at[0], at[1]);
  const speed = here < 0 ? 0 : Math.hypot(east[here]!, south[here]!);
  const wanted = Math.min(MOST_FOLLOWED, Math.max(LEAST_FOLLOWED, (1.5 * REACH) / Math.max(speed, 1e-3)));
  const longest = Math.max(LEAST_STEP, (CELLS_A_STEP * frame.cellSize) / Math.sqrt(Math.max(fastest, 1e-6)));
  const step = Math.min(longest, Math.max(LEAST_STEP, wanted / STEPS));
  return { step, seconds: Math.min(wanted, Math.max(LEAST_FOLLOWED, step * STEPS)) };
}

/** How wide air goes round in an eddy, m: a few times what a stand is above ground; our assumption. */
const EDDY_RADIUS = 20;
const ringRound = ([x, y]: Point): Point[] =>
  Array.from({ length: 17 }, (_, k) => [
    x + EDDY_RADIUS * Math.sin((k * Math.PI) / 8),
    y + EDDY_RADIUS * Math.cos((k * Math.PI) / 8),
  ]);

export const dilutionOf = (frame: Frame, dose: Float32Array): Grid => {
  const cellVolume = frame.cellSize ** 2 * BELOW;
  return { frame, cells: dose.map((seconds) => seconds / cellVolume) };
};

export const byNose = <T>(measure: (threshold: number) => T) => ({
  usual: measure(NOSE_THRESHOLD.usual),
  // A keen nose takes note of less.
  low: measure(NOSE_THRESHOLD.high),
  high: measure(NOSE_THRESHOLD.low),
});

/** Bedding that scent over a threshold lies on. */
export function beddingIn(
  { frame, cells }: Grid,
  { areas, travelAreas }: Pick<ScentGround, 'areas' | 'travelAreas'>,
  threshold = NOSE_THRESHOLD.usual,
): string[] {
  const found = new Set<number>();
  for (let i = 0; i < cells.length; i++) {
    if (cells[i]! < threshold) continue;
    const x = frame.west + ((i % frame.width) + 0.5) * frame.cellSize;
    const y = frame.north - (Math.floor(i / frame.width) + 0.5) * frame.cellSize;
    const j = cellAt(areas.frame, x, y);
    if (j >= 0 && areas.cells[j] !== 0) found.add(areas.cells[j]!);
  }
  return travelAreas.filter(({ id, kind }) => kind === 'bedding' && found.has(id)).map(({ name }) => name);
}

/** Whether the air at a spot hardly moves, so that scent stays round it. */
export function airHangs({ field }: NearGround, at: Point): boolean {
  const i = cellAt(field.frame, at[0], at[1]);
  return Math.hypot(field.east[i]!, field.south[i]!) < HANGS;
}

export const airEddies = ({ field }: NearGround, at: Point): boolean =>
  field.eddies[cellAt(field.frame, at[0], at[1])] === 1;
