import { type Flow, shareOf } from './flow.ts';
import {
  type DownwindSpot,
  downwindOf,
  joinRegions,
  passing,
  type Region,
  type Spot,
  withinReach,
} from './region.ts';
import type { GoalEffect, Shift } from './types.ts';

/** What a plan is to bring about. */
export interface Goals {
  /** Travel is to pass here. */
  gather: Spot | null;
  /** Travel is to stay out of this spot's downwind side. */
  keepOut: DownwindSpot | null;
}

/** Travel measured against goals: shares of all travel that pass the places of each, and neither. */
function measureGoals(flow: Flow, { gather, keepOut }: Goals) {
  const gathered = gather && withinReach(flow.frame, gather);
  const kept = keepOut && downwindOf(flow.frame, keepOut);
  const share = (region: Region): number => shareOf(flow, passing(flow, region));
  const either = share(joinRegions(...[gathered, kept].filter((region) => region !== null)));
  return { gather: gathered && share(gathered), keepOut: kept && share(kept), rest: sentBy(flow) - either };
}

/** Travel that arrives: pairs that are cut off carry none. */
const sentBy = (flow: Flow): number => flow.pairs.reduce((sum, { pair }) => sum + pair.share, 0);

/** The effect of a change on goals: travel before and after it, both solved at one focus. */
export function effectOn(goals: Goals, before: Flow, after: Flow, focus: number): GoalEffect {
  const was = measureGoals(before, goals);
  const now = measureGoals(after, goals);
  const shift = (from: number | null, to: number | null): Shift | null =>
    from === null || to === null ? null : { before: from, after: to };
  return {
    gather: shift(was.gather, now.gather),
    keepOut: shift(was.keepOut, now.keepOut),
    rest: { before: was.rest, after: now.rest },
    dearer: addedCost(before, after, focus),
  };
}

/**
 * What a change adds to the mean way of the pairs that can still go, metres of easy ground. The walkers that meet
 * make up a sum of e^(-theta cost) over all ways, so -ln(sum) / theta is the cost of travel with every way counted
 * (the free energy of Kivimäki et al. 2014); theta is the same before and after. Null at focus 0.
 */
function addedCost(before: Flow, after: Flow, focus: number): number | null {
  const key = ({ from, to }: { from: number; to: number }): string => `${from} ${to}`;
  const now = new Map(after.pairs.map((flow) => [key(flow.pair), flow]));
  let added = 0;
  let shares = 0;
  for (const was of before.pairs) {
    const is = now.get(key(was.pair));
    if (!is) continue;
    if (!was.spread || !is.spread) return null;
    added += (was.pair.share * Math.log(was.spread.met / is.spread.met) * was.cost) / focus;
    shares += was.pair.share;
  }
  return shares > 0 ? added / shares : null;
}
