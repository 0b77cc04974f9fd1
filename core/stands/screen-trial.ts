import { formatLength, formatShare, type Units } from '../features/units.ts';
import { cellAt, cellCentre, type Grid, type Point } from '../grid/frame.ts';
import { SIGHT } from '../terrain/sight.ts';
import { screenedView } from '../terrain/visibility.ts';
import type { Route, TravelArea } from '../travel/types.ts';
import { along, REACH, type ReachGrid } from './reach.ts';
import { growthSource, type ScreenPlant, stoodIn } from './screen-growth.ts';
import { leftBy, type Passed, passedBy, type ScreenLook } from './screened-looks.ts';
import { type SightGround, sightWindow } from './sight-window.ts';
import { CHEST, DEER_EYE } from './spot.ts';
import type { Leaves } from './types.ts';
import { inAreas, MINDS } from './watchers.ts';

/** What a screen is to hide: a person or a seat, at one place or many. */
export interface Hidden {
  name: string;
  places: Point[];
  /** Of its top over the ground, m. */
  height: number;
}

/** A planting tried out. Lengths in m. */
export interface TriedScreen {
  lines: readonly (readonly Point[])[];
  plant: ScreenPlant;
  width: number;
}

/** What is left of the looks at one thing, by where deer look from; `most` is the group with the most left. */
interface Seen {
  name: string;
  travel: number | null;
  bedding: number | null;
  food: number | null;
  most: number | null;
}

/** What is left of the looks at something in the fall of one season; shares 0..1, null where nothing looks. */
export interface ScreenSeason {
  /** 0 is without the screen, 1 the season it is planted in. */
  season: number;
  height: number;
  seen: Seen[];
  /** Of the ground in range in clear view without it, what stays so; null without a seat. */
  shots: number | null;
}

export interface ScreenTrial {
  seasons: ScreenSeason[];
  /** Of each thing hidden, the season from which it counts as hidden: 0 already without it, null never. */
  hiddenFrom: { name: string; season: number | null }[];
  sentences: string[];
  doubts: string[];
}

/** Seasons looked ahead. */
const SEASONS = 6;
/** At most this much of the looks left counts as hidden: our assumption. */
const HIDDEN = 0.1;
/** Places of travel that look, this far apart, m. */
const STEP = 12;
/** A shot is closed where less of the view than this is left. */
const CLEAR = 0.5;

type Group = 'travel' | 'bedding' | 'food';

export interface ScreenGround extends SightGround {
  routes: readonly Route[];
  areas: Grid<Int32Array>;
  travelAreas: readonly TravelArea[];
}

/** Every look at something that is to be hidden, over today's ground and cover. */
export interface LookedAt {
  name: string;
  looks: GroupLook[];
}

interface GroupLook extends ScreenLook {
  group: Group;
}

/**
 * Looks of deer on the lines of travel, in bedding and on food within 250 m at each thing to be hidden. The same for
 * every screen that is tried.
 */
export function looksAt(ground: ScreenGround, hidden: readonly Hidden[], leaves: Leaves): LookedAt[] {
  const spots = inAreas(ground.areas, ground.travelAreas);
  return hidden.map(({ name, places, height }) => {
    const looks: GroupLook[] = [];
    for (const to of places) {
      const { frame, elevation, standing } = sightWindow(ground, to, MINDS, leaves);
      const here = cellAt(frame, ...to);
      const base = here < 0 ? Number.NaN : elevation.cells[here]!;
      if (Number.isNaN(base)) continue;
      // A look is the same both ways.
      const view = screenedView(elevation, standing, here, {
        observerHeight: height,
        targetHeight: DEER_EYE,
        radius: MINDS,
        refraction: SIGHT.refraction,
      }).cells;
      const add = (group: Group, from: Point, weight: number): void => {
        const distance = Math.hypot(from[0] - to[0], from[1] - to[1]);
        const i = cellAt(frame, ...from);
        if (i < 0 || i === here || distance > MINDS || Number.isNaN(elevation.cells[i]!)) return;
        looks.push({
          from,
          eye: elevation.cells[i]! + DEER_EYE,
          to,
          target: base + height,
          group,
          // Nearer deer mind more.
          weight: weight * (1 - distance / MINDS),
          open: view[i]!,
        });
      };
      for (const { path, share } of ground.routes)
        for (const { at: from, length } of along(path, STEP)) add('travel', from, share * length);
      for (const { group, at: from, weight } of spots) if (group !== 'travel') add(group, from, weight);
    }
    return { name, looks };
  });
}

/**
 * What a screen hides year by year: looks through the planting as it grows.
 *
 * @param elevation m, over all of the looks and the screen
 * @param seat reach of the stand behind the screen, so that it is told which shots it closes; null for none
 */
export function screenTrial(
  elevation: Grid,
  lookedAt: readonly LookedAt[],
  screen: TriedScreen,
  seat: ReachGrid | null,
  units: Units,
): ScreenTrial {
  const { lines, plant, width } = screen;
  const at = (place: Point): number => {
    const i = cellAt(elevation.frame, ...place);
    return i < 0 ? Number.NaN : elevation.cells[i]!;
  };
  const passedOn = (look: Parameters<typeof passedBy>[0]): Passed[] =>
    lines.flatMap((line) => passedBy(look, line, at, width));
  const looked = lookedAt.map(({ name, looks }) => ({
    name,
    looks: looks.map((look) => ({ ...look, passed: passedOn(look) })),
  }));
  const shots = seat && clearShots(seat).map(passedOn);
  const seasons = Array.from({ length: SEASONS + 1 }, (_, season): ScreenSeason => {
    const stood = stoodIn(plant, season);
    return {
      season,
      height: stood.height,
      seen: looked.map(({ name, looks }) => {
        const left = (group: Group): number | null => {
          let [sum, weight] = [0, 0];
          for (const look of looks) {
            if (look.group !== group) continue;
            weight += look.weight;
            sum += look.weight * look.open * leftBy(look.passed, stood);
          }
          return weight > 0 ? sum / weight : null;
        };
        const groups = { travel: left('travel'), bedding: left('bedding'), food: left('food') };
        const known = Object.values(groups).filter((share) => share !== null);
        return { name, ...groups, most: known.length > 0 ? Math.max(...known) : null };
      }),
      shots:
        shots === null || shots.length === 0
          ? null
          : shots.filter((passed) => leftBy(passed, stood) >= CLEAR).length / shots.length,
    };
  });
  const hiddenFrom = lookedAt.map(({ name }, k) => ({
    name,
    season: seasons.find(({ seen }) => seen[k]!.most !== null && seen[k]!.most! <= HIDDEN)?.season ?? null,
  }));
  return {
    seasons,
    hiddenFrom,
    sentences: sentencesOf(seasons, hiddenFrom, units),
    doubts: [
      growthSource(plant),
      'How thick it stands, how much of a look a metre of it takes and what counts as hidden (at most a tenth of the looks left from travel, from bedding and from food alike) are our assumption. Snow and ice lay grass down.',
      'Deer are looked for along the drawn routes and in the mapped bedding and food within 250 m. Smell and sound go through any screen.',
    ],
  };
}

/** The lines of fire in clear view without the screen. */
const clearShots = ({ spot, eye, codes, elevation }: ReachGrid) =>
  [...codes.cells.keys()]
    .filter((i) => codes.cells[i] === REACH.clear)
    .map((i) => ({
      from: spot.at,
      eye,
      to: cellCentre(codes.frame, i),
      target: elevation.cells[i]! + CHEST,
    }));

function sentencesOf(
  seasons: readonly ScreenSeason[],
  hiddenFrom: ScreenTrial['hiddenFrom'],
  units: Units,
): string[] {
  const sentences = hiddenFrom.map(({ name, season }, k) => {
    const before = seasons[0]!.seen[k]!.most;
    const grown = seasons.at(-1)!.seen[k]!.most;
    if (before === null || grown === null)
      return `${name}: no travel, bedding or food lies near enough to look, so nothing can be told.`;
    if (season === 0)
      return `${name}: hidden already; ${formatShare(before)} of the looks at most is left without it.`;
    if (season === null)
      return `${name}: not hidden by this screen. Without it ${formatShare(before)} of the looks at most is left, ${formatShare(grown)} with it grown.`;
    const at = seasons[season]!;
    return `${name}: hidden from season ${season} on, when it stands ${formatLength(at.height, units, 'height')}: ${formatShare(at.seen[k]!.most!)} of the looks at most is left, ${formatShare(before)} without it.`;
  });
  const { shots } = seasons.at(-1)!;
  if (shots !== null && shots < 0.95)
    sentences.push(
      `Grown, it closes ${formatShare(1 - shots)} of the ground you now have in clear view: raise the seat, set the screen farther out or leave windows in it.`,
    );
  return sentences;
}
