import { existing } from '../features/feature.ts';
import { weightsOf } from './assumptions.ts';
import { barriersOf } from './barriers.ts';
import { moveCosts } from './edges.ts';
import type { Flow } from './flow.ts';
import { solveFlow, updateFlow } from './solve-flow.ts';
import { ACCURACY, type BuiltTravel, type TodayTravel, type WhatIfInputs } from './what-if.ts';

/** Two ends of travel, by the numbers of their areas; null for any. */
export interface Ends {
  from: number | null;
  to: number | null;
}

/** The number of an end that is on neither map. */
export const NOWHERE = -1;

/** Travel between two ends before and after a change, as flows whose shares are of that travel alone. */
export interface Between {
  before: Flow;
  after: Flow;
  /** Share of all travel today that it is, or with everything proposed of an end that is new then; 0 for a pair that is not among those all travel is shared out over. */
  ofAll: number;
}

const joins = ({ from, to }: Ends, pair: { from: number; to: number }): boolean => {
  const fits = (end: number | null, area: number): boolean => end === null || end === area;
  return (fits(from, pair.from) && fits(to, pair.to)) || (fits(from, pair.to) && fits(to, pair.from));
};

/** The pairs of a flow between two ends, their shares of that travel alone; those cut off count as sent. */
function only(flow: Flow, ends: Ends): Flow {
  const pairs = flow.pairs.filter(({ pair }) => joins(ends, pair));
  const cutOff = flow.cutOff.filter((pair) => joins(ends, pair));
  const all = [...pairs.map(({ pair }) => pair), ...cutOff].reduce((sum, { share }) => sum + share, 0);
  return {
    ...flow,
    pairs: pairs.map((found) => ({ ...found, pair: { ...found.pair, share: found.pair.share / all } })),
    cutOff: cutOff.map((pair) => ({ ...pair, share: pair.share / all })),
  };
}

/** Share of all travel that is sent between two ends, whether a way is left for it or not. */
const sentBy = ({ pairs, cutOff }: Flow, ends: Ends): number =>
  [...pairs.map(({ pair }) => pair), ...cutOff]
    .filter((pair) => joins(ends, pair))
    .reduce((sum, { share }) => sum + share, 0);

const isNew = (end: number | null, fresh: ReadonlySet<number>): boolean =>
  end === NOWHERE || (end !== null && fresh.has(end));

/** Travel between ends of which one is new, once everything proposed is built. */
function newTravel(ends: Ends, known: Flow, inputs: WhatIfInputs, built: BuiltTravel): Flow {
  const { from, to } = ends;
  if (!isEmpty(known) || from === null || to === null || from === NOWHERE || to === NOWHERE) return known;
  const { focus } = weightsOf(inputs.assumptions);
  const crossings = moveCosts(built.costs.resistance.frame, built.barriers, built.costs);
  return solveFlow(built.costs, built.areas, [{ from, to, share: 1 }], focus, crossings, {
    accuracy: ACCURACY,
  });
}

const isEmpty = ({ pairs, cutOff }: Flow): boolean => pairs.length + cutOff.length === 0;

/**
 * Travel between two ends before and after. Two areas that no travel is reckoned between, since others lie between
 * them or are nearer, are solved for themselves; `former` is such a solve of today's, to save it. From and to an end
 * that only a proposal makes nothing goes today.
 */
export function travelBetween(
  ends: Ends,
  inputs: WhatIfInputs,
  today: TodayTravel,
  built: BuiltTravel,
  former: Flow | null,
): Between & { solved: Flow | null } {
  const known = { before: only(today.flow, ends), after: only(built.flow, ends) };
  const fresh = new Set(built.ends.map(({ id }) => id));
  if (isNew(ends.from, fresh) || isNew(ends.to, fresh))
    return {
      ...known,
      after: newTravel(ends, known.after, inputs, built),
      ofAll: sentBy(built.flow, ends),
      solved: null,
    };
  if (!isEmpty(known.before) || !isEmpty(known.after) || ends.from === null || ends.to === null) {
    return { ...known, ofAll: sentBy(today.flow, ends), solved: null };
  }
  const weights = weightsOf(inputs.assumptions);
  const { focus } = weights;
  const { frame } = today.costs.resistance;
  const pair = { from: ends.from, to: ends.to, share: 1 };
  const solved =
    former ??
    solveFlow(
      today.costs,
      today.areas,
      [pair],
      focus,
      moveCosts(frame, barriersOf(existing(inputs.features), weights, inputs.slope), today.costs),
      { accuracy: ACCURACY },
    );
  const crossings = () => moveCosts(frame, built.barriers, built.costs);
  const after =
    focus > 0
      ? updateFlow(solved, today.costs, built.costs, built.areas, focus, crossings, ACCURACY).flow
      : solveFlow(built.costs, built.areas, [pair], 0, crossings(), { accuracy: ACCURACY });
  return { before: solved, after, ofAll: 0, solved };
}
