import type { Feature } from '../features/feature.ts';
import { distanceTo } from '../grid/distance.ts';
import type { Point } from '../grid/frame.ts';
import { type Asked, type AskedFound, answerAsked } from './asked.ts';
import { type Flow, passageOf, shareAcross } from './flow.ts';
import { armsAround, findJunctions } from './junctions.ts';
import { compareTravel, nextClosures, type PlanInputs, planPairs } from './plan-travel.ts';
import type { Junction, PlanTravel } from './types.ts';
import { type BuiltTravel, shareWithin, solveBuilt, type TodayTravel } from './what-if.ts';

/** A share of all travel today and under two plans. */
export interface Three {
  today: number;
  first: number;
  second: number;
}

export interface PlanFound extends PlanTravel {
  asked: AskedFound;
}

export interface Comparison {
  necks: ({ id: string } & Three)[];
  /** Where three or more strands meet today or under either plan. */
  junctions: ({
    /** Of a junction of today; null where one comes about only by a plan. */
    id: string | null;
    at: Point;
    reach: number;
    /** Strands that meet there; 0 where it is none. */
    arms: Three;
  } & Three)[];
  first: PlanFound;
  second: PlanFound;
  built: { first: BuiltTravel; second: BuiltTravel };
}

/**
 * Two plans against today and so against each other, on the same pairs and with the same weighing of a detour.
 *
 * @param inputs their features are left aside
 * @param plans everything that exists with what each plan proposes
 * @param junctions of today
 */
export function comparePlans(
  inputs: PlanInputs,
  plans: { first: readonly Feature[]; second: readonly Feature[] },
  junctions: readonly Junction[],
  asked: Asked,
  today: TodayTravel,
  progress: (fraction: number) => void,
): Comparison {
  const judge = (features: readonly Feature[], start: number) => {
    const given = { ...inputs, features };
    const built = solveBuilt(planPairs(given), today);
    progress(start + 0.2);
    const found = {
      ...compareTravel(given, today, built),
      ...nextClosures(given, built, null, asked.goals),
      asked: answerAsked(asked, planPairs(given), today, built, null).found,
    };
    progress(start + 0.45);
    return { built, found };
  };
  const first = judge(plans.first, 0);
  const second = judge(plans.second, 0.45);
  const flows = { today: today.flow, first: first.built.flow, second: second.built.flow };
  const three = (measure: (flow: Flow) => number): Three => ({
    today: measure(flows.today),
    first: measure(flows.first),
    second: measure(flows.second),
  });
  return {
    necks: inputs.necks.map(({ id, line }) => ({ id, ...three((flow) => shareAcross(flow, line).share) })),
    junctions: meetings(inputs, today, first.built, second.built, junctions).map((spot) => ({
      ...spot,
      ...three((flow) => shareWithin(flow, spot.at, spot.reach)),
    })),
    first: first.found,
    second: second.found,
    built: { first: first.built, second: second.built },
  };
}

/** Where strands meet, today's junctions first, and those of each plan that lie apart from all before them. */
function meetings(
  inputs: PlanInputs,
  today: TodayTravel,
  first: BuiltTravel,
  second: BuiltTravel,
  junctions: readonly Junction[],
): Omit<Comparison['junctions'][number], keyof Three>[] {
  const spots: { id: string | null; at: Point; reach: number }[] = junctions.map(({ id, at, reach }) => ({
    id,
    at,
    reach,
  }));
  for (const { flow, ground, areas } of [first, second]) {
    const toArea = distanceTo(flow.frame, areas);
    for (const { at, reach } of findJunctions(flow, passageOf(flow, ground), toArea, inputs.features)) {
      const known = spots.some((spot) => Math.hypot(spot.at[0] - at[0], spot.at[1] - at[1]) < 2 * reach);
      if (!known) spots.push({ id: null, at, reach });
    }
  }
  const strands = ({ flow }: { flow: Flow }, at: Point, reach: number): number => {
    const count = armsAround(flow, at, reach).arms.length;
    return count >= 3 ? count : 0;
  };
  return spots.map((spot) => ({
    ...spot,
    arms: {
      today: strands(today, spot.at, spot.reach),
      first: strands(first, spot.at, spot.reach),
      second: strands(second, spot.at, spot.reach),
    },
  }));
}
