import { weightsOf } from './assumptions.ts';
import { type Ends, NOWHERE, travelBetween } from './between.ts';
import { type Flow, shareAcross, shareOf } from './flow.ts';
import { effectOn, type Goals } from './goals.ts';
import { passing, type Spot, withinReach } from './region.ts';
import type { GoalEffect, NeckPlace, Shift } from './types.ts';
import type { BuiltTravel, TodayTravel, WhatIfInputs } from './what-if.ts';

/** An end of travel: an area by its number, one that a proposed feature would be, or null for any. */
export type AskedEnd = Ends['from'] | { feature: string };

/** What a comparison of travel is asked besides the necks' shares. */
export interface Asked {
  ends: { from: AskedEnd; to: AskedEnd } | null;
  stand: Spot | null;
  goals: Goals | null;
}

export interface AskedFound {
  /** Travel between the two ends, in shares of that travel; null when no ends were named. */
  between: {
    ofAll: number;
    necks: ({ id: string } & Shift)[];
    stand: Shift | null;
    /** Share of it that no way is left for. */
    cutOff: Shift;
  } | null;
  /** Within the stand's range, of all travel. */
  stand: Shift | null;
  goals: GoalEffect | null;
}

/** Answers what is asked of travel before and after; with today's flow between ends that had to be solved for it. */
export function answerAsked(
  { ends, stand, goals }: Asked,
  inputs: WhatIfInputs & { necks: readonly NeckPlace[] },
  today: TodayTravel,
  built: BuiltTravel,
  former: Flow | null,
): { found: AskedFound; solved: Flow | null } {
  const numberOf = (end: AskedEnd): Ends['from'] =>
    end === null || typeof end === 'number'
      ? end
      : (built.ends.find(({ feature }) => feature === end.feature)?.id ?? NOWHERE);
  const by =
    ends && travelBetween({ from: numberOf(ends.from), to: numberOf(ends.to) }, inputs, today, built, former);
  const passes = ({ before, after }: { before: Flow; after: Flow }): Shift | null => {
    if (!stand) return null;
    const region = withinReach(before.frame, stand);
    const share = (flow: Flow): number => shareOf(flow, passing(flow, region));
    return { before: share(before), after: share(after) };
  };
  const lost = ({ cutOff }: Flow): number => cutOff.reduce((sum, { share }) => sum + share, 0);
  return {
    found: {
      between: by && {
        ofAll: by.ofAll,
        necks: inputs.necks.map(({ id, line }) => ({
          id,
          before: shareAcross(by.before, line).share,
          after: shareAcross(by.after, line).share,
        })),
        stand: passes(by),
        cutOff: { before: lost(by.before), after: lost(by.after) },
      },
      stand: passes({ before: today.flow, after: built.flow }),
      goals: goals && effectOn(goals, today.flow, built.flow, weightsOf(inputs.assumptions).focus),
    },
    solved: by?.solved ?? null,
  };
}
