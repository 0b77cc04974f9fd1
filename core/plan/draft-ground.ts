import { COVER } from '../cover/types.ts';
import { type Feature, type FeatureKind, ofKind } from '../features/feature.ts';
import { along } from '../features/measure.ts';
import { pathsOf } from '../features/shapes.ts';
import { cellAt, type Grid, type Point } from '../grid/frame.ts';
import { pathLength, simplifyPath } from '../grid/simplify.ts';
import { footOn } from '../travel/barriers.ts';
import { ownerOf } from '../travel/owner.ts';

/** Work keeps so far off the property line, which on the map is no survey, m: our assumption. */
export const OFF_LINE = 10;
/** A line is looked at every so many metres. */
const STEP = 5;

/** Nothing is laid across these: they are somebody's way or right of way, or stock's bound. */
const WAYS: readonly FeatureKind[] = ['road', 'railroad', 'access', 'trail'];

const WAY_WORDS: Partial<Record<FeatureKind, string>> = {
  road: 'a road',
  railroad: 'the railroad',
  access: 'a way in',
  trail: 'a trail',
  creek: 'a creek',
  fence: 'a fence',
};

const nameOf = ({ kind, name }: Pick<Feature, 'kind' | 'name'>): string => name ?? WAY_WORDS[kind] ?? kind;

/** Places along a path, its ends among them. */
export function placesAlong(path: readonly Point[]): Point[] {
  const length = pathLength(path);
  const count = Math.max(1, Math.ceil(length / STEP));
  return Array.from({ length: count + 1 }, (_, k) => along(path, (k / count) * length));
}

/** Whether a path or an outline lies wholly on the client's own ground, off its line. */
export const isOwned = (rings: readonly Point[][], path: readonly Point[]): boolean =>
  ownerOf(rings, placesAlong(path), OFF_LINE) === 'inside';

/** A barricade stays so far off a way, and a piece of it shorter than this is not worth laying, m: our assumption. */
const OFF_WAY = 5;
const LEAST_PIECE = 10;

/**
 * What can be built of a line: the pieces on the client's own ground, off its line and off roads, rails, ways in and
 * trails, which stay open.
 *
 * @returns the pieces, and the names of the ways they are left open for; the line itself where all of it can be built
 */
export function buildable(
  features: readonly Feature[],
  rings: readonly Point[][],
  path: readonly Point[],
): { pieces: Point[][]; openFor: string[] } {
  const ways = ofKind(features, ...WAYS).flatMap((way) =>
    pathsOf(way.geometry).map((line) => ({ name: nameOf(way), line })),
  );
  const openFor = new Set<string>();
  const pieces: Point[][] = [];
  let piece: Point[] = [];
  const places = placesAlong(path);
  const end = (): void => {
    if (piece.length > 1 && pathLength(piece) >= LEAST_PIECE) pieces.push(simplifyPath(piece, 1));
    piece = [];
  };
  for (const at of places) {
    const near = ways.filter(({ line }) => (footOn(line, at)?.distance ?? Infinity) <= OFF_WAY);
    for (const { name } of near) openFor.add(name);
    if (near.length > 0 || ownerOf(rings, [at], OFF_LINE) !== 'inside') end();
    else piece.push(at);
  }
  const whole = piece.length === places.length;
  end();
  return { pieces: whole ? [[...path]] : pieces, openFor: [...openFor] };
}

/** The first drawn line of some kinds that a path crosses, in words; null where it crosses none. */
export function crossedBy(
  features: readonly Feature[],
  path: readonly Point[],
  kinds: readonly FeatureKind[],
): string | null {
  for (const { kind, name, geometry } of ofKind(features, ...kinds))
    for (const line of pathsOf(geometry)) if (meet(line, path)) return nameOf({ kind, name });
  return null;
}

/** Whether two paths have a place in common. */
function meet(one: readonly Point[], other: readonly Point[]): boolean {
  for (let i = 1; i < one.length; i++)
    for (let j = 1; j < other.length; j++)
      if (cross(one[i - 1]!, one[i]!, other[j - 1]!, other[j]!)) return true;
  return false;
}

const turn = (a: Point, b: Point, c: Point): number =>
  Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));

const cross = (a: Point, b: Point, c: Point, d: Point): boolean =>
  turn(a, b, c) !== turn(a, b, d) && turn(c, d, a) !== turn(c, d, b);

const WOODY: readonly number[] = [COVER.brush, COVER.deciduous, COVER.evergreen];

/** Of some places, the part with brush or timber; what is not known counts as none. */
export const woodyShare = ({ frame, cells }: Grid<Uint8Array>, places: readonly Point[]): number =>
  places.filter((at) => WOODY.includes(cells[cellAt(frame, ...at)] ?? 0)).length / Math.max(1, places.length);
