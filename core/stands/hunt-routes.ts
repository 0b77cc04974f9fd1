import { seededRandom } from '../grid/random.ts';
import type { Flow } from '../travel/flow.ts';
import { sampleRoutes } from '../travel/routes.ts';
import type { Route, TravelArea } from '../travel/types.ts';

/** Routes a verdict walks each way for every pair of areas: more than are drawn, since few make wide bands. Our choice. */
const EACH_WAY = 32;

/** The routes verdicts are made of; the same for the same flow and seed. */
export const huntRoutes = (flow: Flow, areas: readonly TravelArea[], seed: number): Route[] =>
  sampleRoutes(flow, areas, seed, EACH_WAY);

/** For comparing two flows more are walked: few of all come by a stand, and what differs is less than what they have in common. Our choice. */
const COMPARED = 128;

/**
 * Routes for comparing two flows: where the flow is the same, so are they, and what differs is not the chance of the
 * draw.
 */
export const comparedRoutes = (flow: Flow, areas: readonly TravelArea[], seed: number): Route[] =>
  sampleRoutes(flow, areas, seed, COMPARED, true);

/**
 * Routes as they would be shared if travel of unknown direction leans one way: each pair of areas draws which, and by how
 * much, from a seed, so that the same pair leans the same way in every plan. What is not drawn stays.
 */
export function leaning(routes: readonly Route[], seed: number): Route[] {
  const leans = new Map<string, number>();
  const leanOf = (key: string): number => {
    const known = leans.get(key) ?? seededRandom(seed + hashOf(key))();
    leans.set(key, known);
    return known;
  };
  return routes.map((route) => {
    if (route.when !== 'any') return route;
    const forward = route.from < route.to;
    const lean = leanOf([route.from, route.to].sort().join('\u0000'));
    return { ...route, share: 2 * route.share * (forward ? lean : 1 - lean) };
  });
}

/** FNV-1a (Fowler, Noll & Vo; public domain), for a seed of a name. */
function hashOf(text: string): number {
  let hash = 0x811c9dc5;
  for (let k = 0; k < text.length; k++) hash = Math.imul(hash ^ text.charCodeAt(k), 0x01000193);
  return hash >>> 0;
}
