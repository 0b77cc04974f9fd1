import type { Flow } from '../travel/flow.ts';
import { sampleRoutes } from '../travel/routes.ts';
import type { Route, TravelArea } from '../travel/types.ts';

/** Routes a verdict walks each way for every pair of areas: more than are drawn, since few make wide bands. Our choice. */
const EACH_WAY = 32;

/** The routes verdicts are made of; the same for the same flow and seed. */
export const huntRoutes = (flow: Flow, areas: readonly TravelArea[], seed: number): Route[] =>
  sampleRoutes(flow, areas, seed, EACH_WAY);
