import { type Weights, weightsOf } from './assumptions.ts';
import { reshared } from './reshare.ts';
import { resistanceOf } from './resistance.ts';
import { solveToday, type TodayTravel, type WhatIfInputs } from './what-if.ts';

/** The most cells a drawn world is solved on: four times a plan's would take four times as long. Our choice. */
const DRAWN_CELLS = 75_000;

/** Today's travel as it would be under other weights, for plans to be tried on. */
export interface World extends WhatIfInputs {
  todayTravel: TodayTravel;
}

/** The usual weights on the cells of drawn worlds, which drawn ones are read against. */
export const usualWorld = (inputs: WhatIfInputs): World => ({
  ...inputs,
  todayTravel: solveToday(inputs, undefined, DRAWN_CELLS),
});

/**
 * The same under drawn weights (`drawWeights`). How far deer go and how much food draws them is uncertain too: travel is
 * shared out between the pairs anew.
 *
 * @param usual made by `usualWorld`
 */
export function drawnWorld(usual: World, drawn: Weights): World {
  const assumptions = usual.assumptions.map((each) => ({ ...each, value: drawn[each.key as keyof Weights] }));
  const resistance = resistanceOf(usual, drawn);
  const given = { ...usual, assumptions, resistance };
  const solved = solveToday(given, undefined, DRAWN_CELLS);
  const key = ({ from, to }: { from: number; to: number }): string => `${from} ${to}`;
  const costs = new Map(usual.todayTravel.flow.pairs.map(({ pair, cost }) => [key(pair), cost]));
  const flow = reshared(solved.flow, drawn, costs, weightsOf(usual.assumptions), usual.travelAreas);
  const shares = new Map(flow.pairs.map(({ pair }) => [key(pair), pair.share]));
  const anew = <P extends { from: number; to: number; share: number }>(pairs: readonly P[]): P[] =>
    pairs.map((pair) => ({ ...pair, share: shares.get(key(pair)) ?? pair.share }));
  return {
    ...given,
    corridors: anew(usual.corridors),
    pairs: anew(usual.pairs),
    todayTravel: { ...solved, flow },
  };
}
