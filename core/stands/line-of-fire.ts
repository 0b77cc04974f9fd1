import type { Feature } from '../features/feature.ts';
import { capital, formatLength, type Units } from '../features/units.ts';
import type { Grid } from '../grid/frame.ts';
import { type FireRay, fireRay } from './fire-rays.ts';
import { type Hazard, hazardsRound, leavesGround } from './hazards.ts';
import { gathered } from './sectors.ts';
import type { StandSettings } from './settings.ts';
import type { Behind, LineOfFire, Sector, SectorState, StandSpot } from './types.ts';

/** Degrees of a sector, and directions looked along in it. */
const WIDTH = 10;
const PER_DEGREE = 1;

/** Ground met flatter than this may let a shot glance off, degrees: our assumption. */
const GLANCES = 10;

/** What the line of fire is looked for on. */
export interface FireGround {
  elevation: Grid;
  features: readonly Feature[];
}

/** One direction with what lies along it, before it is put into words. */
interface Looked {
  ray: FireRay;
  behind: Behind[];
  state: SectorState;
}

/**
 * What lies behind a deer in every direction: see `LineOfFire` for what the states mean. Vegetation stops nothing
 * here. Things drawn on the map are looked for, and nothing else can be.
 *
 * @param eye elevation of the eye, m
 */
export function lineOfFire(
  ground: FireGround,
  spot: StandSpot,
  eye: number,
  settings: StandSettings,
  units: Units,
): LineOfFire {
  const danger = Math.max(settings.danger[spot.weapon], spot.range);
  const hazards = hazardsRound(spot.at, ground.features, spot.id, danger);
  const leaves = leavesGround(ground.features);
  const tooNear = setbackReasons(hazards, settings, units);
  const { cellSize } = ground.elevation.frame;
  const near = Math.min(spot.range, settings.backstop);
  const coarse =
    cellSize > near
      ? `Cells of ${formatLength(cellSize, units)} are too coarse to show what lies within ${formatLength(near, units)}.`
      : null;
  const sectors: Sector[] = [];
  for (let from = 0; from < 360; from += WIDTH) {
    const looked: Looked[] = [];
    for (let bearing = from; bearing < from + WIDTH; bearing += PER_DEGREE) {
      const ray = fireRay(ground.elevation, spot.at, eye, bearing, spot.range, danger);
      looked.push(lookAlong(ray, hazards, leaves(spot.at, bearing), danger, settings));
    }
    const sector = sectorOf(from, looked, tooNear, settings, units);
    sectors.push(coarse && sector.state !== 'closed' ? notKnown(sector, coarse) : sector);
  }
  const degrees: LineOfFire['degrees'] = { checked: 0, open: 0, closed: 0, unknown: 0 };
  for (const { state } of sectors) degrees[state] += WIDTH;
  return {
    sectors,
    runs: gathered(sectors),
    danger,
    degrees,
    looked: lookedFor(ground.features, settings, danger, units),
    cautions: FIRE_CAUTIONS,
  };
}

/** What a shot that goes past a deer on this line can come to, the nearest first. */
function lookAlong(
  ray: FireRay,
  hazards: readonly Hazard[],
  leaves: number,
  danger: number,
  { backstop }: StandSettings,
): Looked {
  const behind: Behind[] = [];
  const add = (what: Behind['what'], name: string, distance: number): void => {
    if (distance <= danger) behind.push({ what, name, distance, stopped: distance > ray.ends });
  };
  if (ray.targets > 0) {
    for (const { what, name, byBearing } of hazards)
      add(what, name, byBearing[Math.round(ray.bearing) % 360]!);
    if (leaves <= ray.ends) add('neighbour', 'ground that is not yours', leaves);
    if (ray.unknown < Number.POSITIVE_INFINITY) add('map edge', 'the end of the map', ray.unknown);
  }
  behind.sort((a, b) => a.distance - b.distance);
  return { ray, behind, state: stateOf(ray, behind, backstop) };
}

function stateOf(ray: FireRay, behind: readonly Behind[], backstop: number): SectorState {
  // Nothing can be shot at here: there is nothing to look behind, but unknown ground may hide that.
  if (ray.targets === 0) return ray.unknown < Number.POSITIVE_INFINITY ? 'unknown' : 'checked';
  if (behind.some(({ what, stopped }) => !stopped && what !== 'map edge')) return 'closed';
  return ray.beyond <= backstop ? 'checked' : 'open';
}

/** What such ground says of a backstop is worth nothing; what is drawn on the map still is. */
const notKnown = (sector: Sector, why: string): Sector => ({
  ...sector,
  state: 'unknown',
  stops: null,
  meets: null,
  reasons: [why],
});

const WORST: SectorState[] = ['closed', 'unknown', 'open', 'checked'];

function sectorOf(
  from: number,
  looked: readonly Looked[],
  tooNear: string[],
  { backstop }: StandSettings,
  units: Units,
): Sector {
  const states = looked.map(({ state }) => state);
  const state = tooNear.length > 0 ? 'closed' : WORST.find((worst) => states.includes(worst))!;
  const shot = looked.filter(({ ray }) => ray.targets > 0);
  const beyond = Math.max(0, ...shot.map(({ ray }) => ray.beyond));
  const met = shot.map(({ ray }) => ray.meets).filter((angle) => !Number.isNaN(angle));
  const behind = nearestOfEach(looked.flatMap((each) => each.behind));
  const away = (metres: number): string => formatLength(metres, units);
  const reasons = [...tooNear];
  for (const { what, name, distance, stopped } of behind)
    if (!stopped && what !== 'map edge')
      reasons.push(
        what === 'neighbour'
          ? `Some line leaves your ground after ${away(distance)} before ground stops it.`
          : `${capital(name)} lies in the way at ${away(distance)}.`,
      );
  if (shot.length === 0) reasons.push('No ground in range is in view this way.');
  else if (beyond > backstop)
    reasons.push(
      beyond === Number.POSITIVE_INFINITY
        ? 'Skyline: some line runs on past the deer and no known ground stops it.'
        : `Some line runs on ${away(beyond)} past the deer before ground stops it.`,
    );
  else reasons.push(`Ground stops every line within ${away(beyond)} behind the deer.`);
  if (state === 'checked' && met.length > 0 && Math.min(...met) < GLANCES)
    reasons.push(
      `Some line meets the ground at ${Math.round(Math.min(...met))}°: a shot may glance off ground so flat to it.`,
    );
  if (behind.some(({ what, stopped }) => what === 'map edge' && !stopped))
    reasons.push('The map ends before some line does: what lies beyond is not known.');
  const stopped = behind.filter((each) => each.stopped && each.what !== 'map edge');
  if (stopped.length > 0)
    reasons.push(
      `Beyond the ground that stops the line: ${stopped.map(({ name, distance }) => `${name} at ${away(distance)}`).join(', ')}.`,
    );
  return {
    from,
    to: from + WIDTH,
    state,
    stops: shot.length > 0 && beyond < Number.POSITIVE_INFINITY ? beyond : null,
    meets: met.length > 0 ? Math.min(...met) : null,
    behind,
    reasons,
  };
}

/** The nearest of what is in the way of some line; of what is stopped everywhere, the nearest as well. */
function nearestOfEach(all: readonly Behind[]): Behind[] {
  const found = new Map<string, Behind>();
  for (const each of all) {
    const key = `${each.what} ${each.name}`;
    const known = found.get(key);
    const worse = !known || (known.stopped && !each.stopped);
    const nearer = known && known.stopped === each.stopped && each.distance < known.distance;
    if (worse || nearer) found.set(key, each);
  }
  return [...found.values()].sort((a, b) => a.distance - b.distance);
}

function setbackReasons(hazards: readonly Hazard[], { setback }: StandSettings, units: Units): string[] {
  return hazards.flatMap(({ what, name, nearest }) => {
    const least = what === 'house' ? setback.building : what === 'road' ? setback.road : null;
    return least !== null && nearest < least
      ? [
          `The stand is ${formatLength(nearest, units)} from ${name}, nearer than the setback of ${formatLength(least, units)} that was entered.`,
        ]
      : [];
  });
}

function lookedFor(
  features: readonly Feature[],
  { setback, backstop }: StandSettings,
  danger: number,
  units: Units,
): string[] {
  const away = (metres: number): string => formatLength(metres, units);
  const mapped = (kind: string): boolean => features.some((feature) => feature.kind === kind);
  return [
    `Straight lines from the eye through a deer anywhere in range, followed for ${away(danger)} (our assumption for this weapon); ground within ${away(backstop)} behind the deer counts as a backstop (our assumption).`,
    'Looked for on the map: buildings, roads, railroads, stock, other stands, places people come from, and the property line.',
    ...(mapped('boundary') ? [] : ['No boundary is mapped: whose ground a shot reaches was not looked at.']),
    ...(mapped('building') ? [] : ['No building is mapped.']),
    setback.building === null
      ? 'No setback from buildings was entered: look up the local rule.'
      : `The setback of ${away(setback.building)} from buildings that was entered was looked at.`,
    setback.road === null
      ? 'No setback from roads was entered: look up the local rule.'
      : `The setback of ${away(setback.road)} from roads that was entered was looked at.`,
  ];
}

/** What is said wherever lines of fire are told of. */
export const FIRE_CAUTIONS = [
  'This shows what was checked. It does not say that a shot is safe: the person behind the gun knows the target and what is behind it, or does not shoot.',
  'People, stock and vehicles move, and what is not on the map was not looked at.',
  'Trees and brush stop nothing here, and may turn a shot anywhere.',
  'Local law on distances, weapons and hours comes first.',
];
