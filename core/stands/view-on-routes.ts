import { visitAround } from '../grid/around.ts';
import { cellAt } from '../grid/frame.ts';
import { SIGHT } from '../terrain/sight.ts';
import { screenedView } from '../terrain/visibility.ts';
import type { Route } from '../travel/types.ts';
import { ON_ROUTE } from './hunt-log.ts';
import { along } from './reach.ts';
import { type SightGround, sightWindow } from './sight-window.ts';
import { eyeHeight } from './spot.ts';
import type { Leaves, StandSpot } from './types.ts';

/** How far a hunter looks, m; and what must be left of the view for deer to be noticed: our assumption. */
const LOOKS = 250;
const NOTICED = 0.1;

/**
 * Of the ground in view of some stands, the share that lies on a drawn route: what luck alone would give for deer seen
 * on one. NaN where nothing is in view.
 */
export function viewOnRoutes(
  ground: SightGround,
  spots: readonly StandSpot[],
  routes: readonly Route[],
  leaves: Leaves,
): number {
  let [on, all] = [0, 0];
  for (const spot of spots) {
    const { frame, elevation, standing } = sightWindow(ground, spot.at, LOOKS, leaves);
    const here = cellAt(frame, ...spot.at);
    if (here < 0 || Number.isNaN(elevation.cells[here]!)) continue;
    const near = new Uint8Array(elevation.cells.length);
    for (const { path } of routes)
      for (const { at } of along(path, ON_ROUTE / 2)) {
        const i = cellAt(frame, ...at);
        if (i < 0) continue;
        const [x, y] = [i % frame.width, Math.floor(i / frame.width)];
        visitAround(frame, x, y, ON_ROUTE, (j, u, v) => {
          if (Math.hypot(u - x, v - y) * frame.cellSize <= ON_ROUTE) near[j] = 1;
        });
      }
    const view = screenedView(elevation, standing, here, {
      observerHeight: eyeHeight(spot),
      targetHeight: SIGHT.targetHeight,
      radius: LOOKS,
      refraction: SIGHT.refraction,
    }).cells;
    view.forEach((left, i) => {
      if (left < NOTICED) return;
      all++;
      on += near[i]!;
    });
  }
  return all > 0 ? on / all : Number.NaN;
}
