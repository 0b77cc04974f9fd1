import { Problem } from '../grid/problem.ts';
import { type AssumptionSetKey, assumptionSet, type FittedSet } from './assumption-sets.ts';
import type { Assumption } from './types.ts';

const OURS = 'our assumption';
const FITTED = 'fitted to the sightings of this property';
const PARKER =
  'Parker, Robbins & Hanley 1984, J. Wildlife Management 48 (mule deer and elk): 5.9 kcal per kg and vertical km on a 14.3 degree incline; on the level 2.97 W^-0.34 (value from memory), W = 70 kg; its use for white-tails is our assumption';

const EXTRA = 'extra metres of easy ground per metre';
const EACH = 'metres of easy ground per crossing';

type Row = readonly [label: string, unit: string, value: number, low: number, high: number, source: string];

/**
 * Every number the travel model rests on. Low and high bound the uncertainty runs. Costs are in metres of easy
 * ground: firm, level, hidden, along an edge, which costs 1 a metre.
 */
const TABLE = {
  brush: ['Brush: slower going', EXTRA, 0.3, 0.1, 1, OURS],
  deciduous: ['Deciduous timber: slower going', EXTRA, 0.1, 0, 0.5, OURS],
  evergreen: ['Evergreen timber: slower going', EXTRA, 0.2, 0, 0.6, OURS],
  wet: ['Wet ground: slower going', EXTRA, 1.5, 0.5, 4, OURS],
  water: ['Open water: swimming', EXTRA, 40, 20, 100, OURS],
  built: ['Built-up ground', EXTRA, 60, 30, 150, OURS],
  unknownCover: ['Ground of unknown cover', EXTRA, 0.5, 0, 1.5, OURS],
  exposure: ['Full exposure by day, far from cover', EXTRA, 9, 4, 16, OURS],
  exposureDistance: ['Distance from cover at which exposure nears its full cost', 'm', 60, 30, 120, OURS],
  exposureAtEdge: ['Share of the exposure cost felt right at the edge', 'share', 0.35, 0.2, 0.6, OURS],
  canopyShield: ['Share of the exposure cost a closed canopy takes away', 'share', 0.6, 0.3, 0.8, OURS],
  unknownScreening: ['Screening in brush and timber where nothing shows it', 'share', 0.5, 0.2, 0.8, OURS],
  unknownOpenScreening: ['Screening on open ground where nothing shows it', 'share', 0.1, 0, 0.5, OURS],
  tangle: ['Impassable footing (tangle or bog)', EXTRA, 6, 3, 12, OURS],
  unknownFooting: ['Ease of footing where nothing shows it', 'share', 0.95, 0.7, 1, OURS],
  edgeBand: ['Band on both sides of an edge that deer follow', 'm', 20, 10, 35, OURS],
  edgeFactor: ['Share of the other costs left along an edge', 'share', 0.7, 0.5, 1, OURS],
  interior: ['Deep inside cover, away from edges', EXTRA, 0.15, 0, 0.4, OURS],
  trailFactor: ['Share of the other costs left on a trail', 'share', 0.5, 0.3, 0.9, OURS],
  trailLane: ['Width beside a trail from which travel takes to it and keeps to it', 'm', 15, 5, 40, OURS],
  climb: ['Cost of a metre climbed', 'metres of easy ground per metre of rise', 8.4, 6, 11, PARKER],
  descent: [
    'Cost of a metre descended: braking (Parker et al. measured it; their values are not at hand)',
    'metres of easy ground per metre of fall',
    1,
    0,
    3,
    OURS,
  ],
  sidehill: [
    'Along a slope of 45 degrees (sidehill), growing with the square of its tangent',
    EXTRA,
    3,
    1,
    8,
    OURS,
  ],
  steepFrom: ['Slope from which a face is avoided beyond its climb', 'degrees', 30, 25, 35, OURS],
  steep: ['Steep face, for every 10 degrees beyond', EXTRA, 3, 1, 6, OURS],
  faceFrom: ['Slope from which a face shuts, all but closed 10 degrees beyond', 'degrees', 42, 38, 50, OURS],
  face: ['Face all but closed', EXTRA, 60, 25, 150, OURS],
  disturbance: ['Beside a building', EXTRA, 3, 1, 8, OURS],
  disturbanceDistance: [
    'Distance at which the disturbance of a building has fallen to a third',
    'm',
    75,
    40,
    150,
    OURS,
  ],
  highway: ['Highway', EACH, 400, 150, 1000, OURS],
  county: ['County road', EACH, 100, 40, 250, OURS],
  lane: ['Lane', EACH, 30, 10, 80, OURS],
  track: ['Track', EACH, 4, 0, 12, OURS],
  railroad: ['Railroad', EACH, 60, 20, 200, OURS],
  creekBank: [
    'Creek: getting down and up banks of 30 degrees, growing with the square of their tangent',
    EACH,
    10,
    3,
    30,
    OURS,
  ],
  creekWidth: ['Creek: every metre of width', EACH, 4, 2, 10, OURS],
  creekDepth: ['Creek: every metre of depth', EACH, 40, 15, 100, OURS],
  fence: [
    'Fence 1.2 m high, growing with the sixth power of height: one of 2.4 m all but stops deer',
    EACH,
    25,
    10,
    60,
    OURS,
  ],
  barricade: [
    'Over a barricade 1.5 m high and 2 m wide, growing with the square of height and with width',
    EACH,
    300,
    100,
    1000,
    OURS,
  ],
  barricadeThrough: ['Through a barricade 2 m wide and thick with wood', EACH, 900, 300, 3000, OURS],
  barricadeUnder: ['Under a barricade with 0.5 m of room', EACH, 60, 20, 180, OURS],
  gate: ['Open gate', EACH, 2, 0, 8, OURS],
  lowered: ['Lowered span', EACH, 4, 1, 12, OURS],
  culvert: ['Culvert a deer can use', EACH, 25, 10, 80, OURS],
  underpass: ['Underpass', EACH, 8, 3, 25, OURS],
  ford: ['Ford', EACH, 6, 2, 20, OURS],
  focus: [
    'How closely travel keeps to the cheapest way (0 wanders at random)',
    'a way dearer by the share 1/focus is taken a third as often',
    10,
    5,
    20,
    OURS,
  ],
  reach: [
    'Cost between areas at which travel has fallen to a third',
    'metres of easy ground',
    2500,
    1500,
    5000,
    OURS,
  ],
  feeding: ['Travel between bedding and food against other travel', 'times', 2, 1, 4, OURS],
} as const satisfies Record<string, Row>;

export type WeightKey = keyof typeof TABLE;
export type Weights = Record<WeightKey, number>;

const KEYS = Object.keys(TABLE) as WeightKey[];

/** Of what starts only e^-focus arrives, and 64-bit numbers tell no smaller share apart. */
const MOST_FOCUS = 25;

/**
 * The travel assumptions in force: the table's, then those of a set, then the user's own.
 *
 * @param overrides values by key; low and high widen to hold them
 * @param fitted the set `fitted` stands for; without it that set is the usual one
 * @throws Problem when a key of an override is unknown or its value is not a number of zero or more
 */
export function travelAssumptions(
  overrides: Record<string, number>,
  set: AssumptionSetKey = 'usual',
  fitted: FittedSet | null = null,
): Assumption[] {
  const chosen: Partial<Weights> = assumptionSet(set, fitted)?.overrides ?? {};
  for (const [key, value] of Object.entries({ ...chosen, ...overrides })) {
    if (!Object.hasOwn(TABLE, key))
      throw new Problem(`The travel weight “${key}” is not one the program knows.`, {
        fix: `Use one of: ${KEYS.join(', ')}.`,
      });
    if (!(value >= 0) || value === Number.POSITIVE_INFINITY)
      throw new Problem(`The travel weight “${key}” is ${value}.`, { fix: 'Give a number of zero or more.' });
    if (key === 'focus' && value > MOST_FOCUS)
      throw new Problem(`The travel weight “focus” is ${value}.`, {
        fix: `Give at most ${MOST_FOCUS}: beyond that travel is the cheapest way itself, which the corridors show.`,
      });
  }
  const ofSet = set === 'fitted' ? FITTED : OURS;
  return KEYS.map((key) => {
    const [label, unit, standard, low, high, source] = TABLE[key];
    const value = overrides[key] ?? chosen[key] ?? standard;
    return {
      key,
      label,
      unit,
      value,
      low: Math.min(low, value),
      high: Math.max(high, value),
      source: overrides[key] !== undefined ? 'set by the user' : chosen[key] !== undefined ? ofSet : source,
    };
  });
}

export const weightsOf = (assumptions: readonly Assumption[]): Weights =>
  Object.fromEntries(assumptions.map(({ key, value }) => [key, value])) as Weights;
