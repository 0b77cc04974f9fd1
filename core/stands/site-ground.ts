import type { Feature } from '../features/feature.ts';
import type { Units } from '../features/units.ts';
import { cellAt, cellCentre, type Grid, type Point } from '../grid/frame.ts';
import { boundaryRings } from '../travel/owner.ts';
import type { Route, TravelArea } from '../travel/types.ts';
import type { CaseInputs, CaseOptions, HuntedPart } from './case-verdict.ts';
import type { HuntSettings } from './hunt-settings.ts';
import { type ReadyGround, readyGround } from './judge-way.ts';
import type { StandGround } from './look.ts';
import { reachMask } from './reach-mask.ts';
import type { SeasonAir } from './scent-study.ts';
import type { StandSettings } from './settings.ts';
import { type FirstGround, firstGround } from './site-look.ts';
import { SEAT_HEIGHTS, type Seat, type SiteSpot } from './site-spots.ts';
import { type SiteTravel, siteTravel } from './site-travel.ts';
import type { WayRules } from './sitting.ts';
import type { StandSpot, Weapon } from './types.ts';

/** Everything a search rests on. */
export interface SiteGround extends Omit<CaseInputs, 'reach' | 'ground'>, StandGround {
  areas: Grid<Int32Array>;
  travelAreas: readonly TravelArea[];
  channels: CaseInputs['ground']['channels'];
  /** Routes drawn, which looks and ways are measured on. */
  routes: readonly Route[];
  /** More routes of the same flow, which verdicts are made of. */
  walked: readonly Route[];
  features: readonly Feature[];
  /** Degrees clockwise from grid north cold air slides towards. */
  airBearing: Grid;
}

export interface SiteWish {
  seat: Seat;
  weapon: Weapon;
  /** m on the slant. */
  range: number;
  /** How many sites at most. */
  count: number;
  /** Stands already there or planned; nothing is proposed close to them. */
  stands: readonly StandSpot[];
  /** Only spots this near to a place, m; everywhere when null. */
  within: { at: Point; reach: number } | null;
}

export interface SiteRules {
  hunt: HuntSettings;
  settings: StandSettings;
  way: WayRules;
  lawful: Record<HuntedPart, number>;
  units: Units;
  /** Fewer particles and winds for a quicker, rougher verdict; all when left out. */
  rough?: Pick<CaseOptions, 'particles' | 'winds'>;
}

/** A neck or junction, or a place many routes pass. */
export interface Mark {
  name: string;
  at: Point;
  /** Share of all travel that passes it. */
  share: number;
}

/** A search made ready: what is made once for all spots. */
export interface Search {
  ground: SiteGround;
  air: SeasonAir;
  wish: SiteWish;
  rules: SiteRules;
  travel: SiteTravel;
  first: FirstGround;
  ready: ReadyGround;
  marks: Mark[];
  rings: Point[][];
}

/** Places along routes lie so far apart, m, and bedding is looked at every so far. */
const SPACING = 10;
const BED_EVERY = 20;

export function prepareSearch(
  ground: SiteGround,
  air: SeasonAir,
  wish: SiteWish,
  rules: SiteRules,
  ready: ReadyGround = readyGround(ground, rules.settings.leaves),
): Search {
  const travel = siteTravel(ground.walked, SPACING);
  const { hunt, lawful } = rules;
  const marks = [
    ...ground.necks.map(({ rank, at, share }) => ({ name: `Neck ${rank}`, at, share })),
    ...ground.junctions.map(({ rank, at, share }) => ({ name: `Junction ${rank}`, at, share })),
  ].sort((a, b) => b.share - a.share);
  const { convergence } = ground.elevation.frame;
  const first = firstGround(travel, bedPlaces(ground), air.parts, lawful, convergence, hunt);
  return { ground, air, wish, rules, travel, first, ready, marks, rings: boundaryRings(ground.features) };
}

function bedPlaces({ areas: { frame, cells }, travelAreas }: SiteGround): Point[] {
  const beds = new Set(travelAreas.filter(({ kind }) => kind === 'bedding').map(({ id }) => id));
  const every = Math.max(1, Math.round(BED_EVERY / frame.cellSize));
  const places: Point[] = [];
  for (let y = 0; y < frame.height; y += every)
    for (let x = 0; x < frame.width; x += every) {
      const i = y * frame.width + x;
      if (beds.has(cells[i]!)) places.push(cellCentre(frame, i));
    }
  return places;
}

/** A spot as a stand to be looked from. */
export const standOn = ({ wish }: Search, { at, seat }: SiteSpot, id: string): StandSpot => ({
  id,
  name: 'This site',
  at,
  seatHeight: SEAT_HEIGHTS[seat],
  seatKnown: true,
  weapon: wish.weapon,
  range: wish.range,
  proposed: true,
});

/** What a deer has to fear from a spot: 1 where it is in range and clear view, and the same asked of a place. */
export function viewFrom(search: Search, spot: SiteSpot) {
  const mask = reachMask(search.ground, standOn(search, spot, 'first'), search.rules.settings.leaves);
  const inView = ([x, y]: Point): boolean => {
    const i = cellAt(mask.frame, x, y);
    return i >= 0 && mask.cells[i] === 1;
  };
  return { mask, inView };
}

export const away = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
