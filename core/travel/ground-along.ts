import { cellAt, type Grid, type Point } from '../grid/frame.ts';
import { pathLength } from '../grid/simplify.ts';
import { placeAlong } from './along.ts';
import { footOn } from './barriers.ts';
import { type LandmarkSources, landmarksAt, landmarksOf } from './landmarks.ts';

/** Places looked at along a way, m apart. */
const STEP = 20;
/** A way lies in a draw where so much of it does; less crosses it. Our choice. */
const IN_DRAW = 0.4;
/** A way that rises or falls by less than this is level: our choice, m. */
const LEVEL = 5;

/** What a way runs over: up or down, by a draw or not, and the first named place it comes to. */
export function groundAlong(path: readonly Point[], elevation: Grid, sources: LandmarkSources): string[] {
  const { cellSize } = elevation.frame;
  const marks = landmarksOf(sources);
  const length = pathLength(path);
  const spots: Point[] = [];
  for (let along = STEP; along <= length; along += STEP) {
    const place = placeAlong(path, along);
    if (place) spots.push(place.spot);
  }
  const heightAt = (spot: Point | undefined): number => {
    const cell = spot ? cellAt(elevation.frame, ...spot) : -1;
    return cell < 0 ? Number.NaN : elevation.cells[cell]!;
  };
  const rise = heightAt(path.at(-1)) - heightAt(path[0]);
  const inDraw = spots.filter((spot) =>
    sources.draws.some((draw) => (footOn(draw.path, spot)?.distance ?? Infinity) <= Math.max(STEP, cellSize)),
  ).length;
  const draw = inDraw >= IN_DRAW * spots.length ? 'draw' : null;
  const names = new Set<string>();
  for (let k = 1; k < spots.length; k++)
    for (const name of landmarksAt([spots[k - 1]!, spots[k]!], marks, sources, cellSize))
      if (name !== 'draw' || draw === null) names.add(WORDS[name] ?? `past the ${name}`);
  const slope = rise > LEVEL ? 'up' : rise < -LEVEL ? 'down' : null;
  const first = draw ? [`${slope ?? 'along'} a draw`] : slope ? [`${slope}hill`] : [];
  return [...first, ...[...names].slice(0, 1)];
}

const WORDS: Record<string, string> = {
  saddle: 'over a saddle',
  bench: 'along a bench',
  draw: 'across a draw',
  'inside corner': 'past an inside corner of a field',
  'creek bend': 'past a creek bend',
  gate: 'past a gate',
  'lowered fence span': 'past a lowered fence span',
  culvert: 'past a culvert',
  underpass: 'past an underpass',
  ford: 'past a ford',
  'end of a fence': 'past the end of a fence',
  'end of a barricade': 'past the end of a barricade',
};
