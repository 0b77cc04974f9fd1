import type { Feature } from '../features/feature.ts';
import { ofKind } from '../features/feature.ts';
import { along } from '../features/measure.ts';
import { pathsOf } from '../features/shapes.ts';
import { visitAround } from '../grid/around.ts';
import { cellAt, type Point } from '../grid/frame.ts';
import { pathLength, simplifyPath } from '../grid/simplify.ts';
import { footOn } from '../travel/barriers.ts';
import type { PlanInputs } from '../travel/plan-travel.ts';
import type { Neck, Route } from '../travel/types.ts';
import { crossedBy, isOwned, woodyShare } from './draft-ground.ts';

/** A trail is cleared so far to each side of a neck, and not at all when less than this is left of it, m: our choice. */
const REACH = 150;
const LEAST = 40;
const STEP = 5;
/** A route that passes the middle of a neck so near goes through it, m, or within half the neck. */
const THROUGH = 10;
/** So near beside a way that is there nothing has to be cleared, m, for half of the stretch or more. */
const BESIDE = 10;
const HALF = 0.5;

/** A trail ends so far from bedding, m: deer must not be opened up where they lie. Our assumption. */
const OFF_BEDDING = 30;

type Ground = Pick<PlanInputs, 'features' | 'cover' | 'areas' | 'travelAreas'>;

/**
 * The stretch of a neck's strongest route that would be cleared: from the neck both ways as far as it stays on the
 * client's own ground, crosses no road, railroad, fence or creek and keeps off bedding.
 *
 * @returns null where no route goes through the neck; `why` where there is nothing to clear
 */
export function trailThrough(
  neck: Pick<Neck, 'at' | 'width'>,
  routes: readonly Route[],
  ground: Ground,
  rings: readonly Point[][],
): { path: Point[]; length: number } | { why: string } | null {
  const near = Math.max(THROUGH, neck.width / 2);
  const [route] = routes
    .filter(({ path }) => path.length > 1 && (footOn(path, neck.at)?.distance ?? Infinity) <= near)
    .sort((a, b) => b.share - a.share);
  if (!route) return null;
  const { features, cover } = ground;
  const places = stretchOf(route.path, neck.at, ground, rings);
  const path = simplifyPath(places, cover.frame.cellSize / 2);
  const length = path.length > 1 ? pathLength(path) : 0;
  if (length < LEAST)
    return {
      why: 'Too little of the route there lies on this ground between bedding, roads, creeks and lines.',
    };
  if (woodyShare(cover, places) < HALF)
    return { why: 'The route runs in the open there: nothing has to be cleared.' };
  if (besideWays(places, features) >= HALF) return { why: 'A trail or way is there already.' };
  return { path, length };
}

function stretchOf(
  path: readonly Point[],
  at: Point,
  { features, areas, travelAreas }: Ground,
  rings: readonly Point[][],
): Point[] {
  const beds = new Set(travelAreas.filter(({ kind }) => kind === 'bedding').map(({ id }) => id));
  const { frame, cells } = areas;
  const nearBed = (spot: Point): boolean => {
    const cell = cellAt(frame, ...spot);
    let found = false;
    visitAround(frame, cell % frame.width, Math.floor(cell / frame.width), OFF_BEDDING, (near) => {
      found ||= beds.has(cells[near]!);
    });
    return found;
  };
  const from = footOn(path, at)!.along;
  const whole = pathLength(path);
  const walk = (way: 1 | -1): Point[] => {
    const places: Point[] = [];
    let last = along(path, from);
    for (let gone = STEP; gone <= REACH; gone += STEP) {
      const place = from + way * gone;
      if (place < 0 || place > whole) break;
      const next = along(path, place);
      const leg = [last, next];
      if (
        nearBed(next) ||
        !isOwned(rings, leg) ||
        crossedBy(features, leg, ['road', 'railroad', 'fence', 'creek'])
      )
        break;
      places.push(next);
      last = next;
    }
    return places;
  };
  return [...walk(-1).reverse(), along(path, from), ...walk(1)];
}

/** Of some places, the part that lies beside a trail, road or way in. */
function besideWays(places: readonly Point[], features: readonly Feature[]): number {
  const ways = ofKind(features, 'trail', 'access', 'road').flatMap(({ geometry }) => pathsOf(geometry));
  const beside = places.filter((at) => ways.some((way) => (footOn(way, at)?.distance ?? Infinity) <= BESIDE));
  return beside.length / places.length;
}
