import type { Feature, FeatureKind } from '../features/feature.ts';
import { middleOf, pathsOf } from '../features/shapes.ts';
import type { Point } from '../grid/frame.ts';
import { footOn } from '../travel/barriers.ts';

/** Something a person on the ground can find without a phone, and where it lies nearest to a spot. */
export interface NearMark {
  name: string;
  at: Point;
  distance: number;
}

/** What can be found again, the surest first. */
const MARKS: Partial<Record<FeatureKind, string>> = {
  building: 'the building',
  gap: 'the gap',
  fence: 'the fence',
  railroad: 'the railroad',
  road: 'the road',
  creek: 'the creek',
  powerline: 'the power line',
  pond: 'the pond',
  stand: 'the stand',
  trail: 'the trail',
};
/** Farther off than this a landmark helps nobody, m: our assumption. */
const REACH = 300;

/** The nearest landmarks of different kinds to a spot, at most two, from what stands today. */
export function landmarksNear(features: readonly Feature[], at: Point, except: string): NearMark[] {
  const best = new Map<FeatureKind, NearMark>();
  for (const feature of features) {
    const words = MARKS[feature.kind];
    if (!words || feature.status !== 'existing' || feature.id === except) continue;
    const found = nearestOn(feature, at);
    if (!found || found.distance > REACH) continue;
    if (found.distance < (best.get(feature.kind)?.distance ?? Number.POSITIVE_INFINITY))
      best.set(feature.kind, { ...found, name: feature.name ?? words });
  }
  return [...best.values()].sort((a, b) => a.distance - b.distance).slice(0, 2);
}

function nearestOn({ geometry }: Feature, at: Point): Omit<NearMark, 'name'> | null {
  if (geometry.type === 'Point') {
    const spot = middleOf(geometry)!;
    return { at: spot, distance: Math.hypot(spot[0] - at[0], spot[1] - at[1]) };
  }
  let best: Omit<NearMark, 'name'> | null = null;
  for (const path of pathsOf(geometry)) {
    const foot = footOn(path, at);
    if (foot && foot.distance < (best?.distance ?? Number.POSITIVE_INFINITY))
      best = { at: foot.at, distance: foot.distance };
  }
  return best;
}
