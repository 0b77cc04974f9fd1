import { PLAN_NEEDS, STUDY_NEEDS, WALK_NEEDS } from '../../../core/analysis/steps/travel.ts';
import type { Feature } from '../../../core/features/feature.ts';
import { cellAt, type Grid, type Point } from '../../../core/grid/frame.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { part } from '../../../core/grid/progress.ts';
import { type Asked, answerAsked } from '../../../core/travel/asked.ts';
import { weightsOf } from '../../../core/travel/assumptions.ts';
import { barriersOf, footOn } from '../../../core/travel/barriers.ts';
import { finePassage } from '../../../core/travel/coarsen.ts';
import { comparePlans } from '../../../core/travel/compare.ts';
import { type FitOptions, fitWeights } from '../../../core/travel/fit-weights.ts';
import { type Flow, passageOf, shareAcross } from '../../../core/travel/flow.ts';
import type { Goals } from '../../../core/travel/goals.ts';
import { linesAt } from '../../../core/travel/lines-at.ts';
import { featuresAt, type Moment } from '../../../core/travel/moment.ts';
import { compareTravel, nextClosures, planPairs } from '../../../core/travel/plan-travel.ts';
import { partsAt } from '../../../core/travel/resistance.ts';
import { scoreSightings, sightingsOf } from '../../../core/travel/sightings.ts';
import { type StudyOptions, studyTravel } from '../../../core/travel/study.ts';
import type { Band } from '../../../core/travel/trials.ts';
import {
  type BuiltTravel,
  joinBuilt,
  type Start,
  shareWithin,
  solveBuilt,
} from '../../../core/travel/what-if.ts';
import { travelByYear } from '../../../core/travel/years.ts';
import { defineInquiry } from './inquiry.ts';

/** Lines of travel that pass this near to a spot pass it (our choice), m, and at least two cells. */
const BY_REACH = 15;

/** What makes a spot dear or cheap to walk, and what passes it. */
export const why = defineInquiry({
  needs: [...WALK_NEEDS, 'assumptions', 'resistance', 'corridors', 'necks', 'routes'],
  run(inputs, { at, moment }: { at: Point; moment: Moment }) {
    const { frame } = inputs.resistance;
    const cell = cellAt(frame, ...at);
    if (cell < 0) throw new Problem('That spot is off the map.', { fix: 'Click inside the map.' });
    const features = featuresAt(inputs.features, moment);
    const weights = weightsOf(inputs.assumptions);
    const parts = partsAt({ ...inputs, features }, weights)(cell);
    const reach = Math.max(BY_REACH, 2 * frame.cellSize);
    const passes = (path: readonly Point[]) => (footOn(path, at)?.distance ?? Infinity) <= reach;
    const routes = inputs.routes.filter(({ path }) => path.length > 1 && passes(path));
    return {
      parts: parts && { ...parts },
      total: inputs.resistance.cells[cell]!,
      corridors: inputs.corridors.filter(({ path }) => path.length > 1 && passes(path)).map(({ id }) => id),
      necks: inputs.necks.filter(({ line }) => passes(line)).map(({ id }) => id),
      routes: routes.map(({ id }) => id),
      routeShare: routes.reduce((sum, { share }) => sum + share, 0),
      lines: linesAt(barriersOf(features, weights, inputs.slope), at, reach),
      reach,
    };
  },
});

/** Passage of a flow on the cells of the property. */
const passageOn = (resistance: Grid, flow: Flow, ground: Grid): Grid =>
  finePassage(passageOf(flow, ground), resistance.frame, resistance.cells);

export interface Trying {
  /** The last try, nearer to this one than today is; null before the first. */
  last: Start | null;
  /** Today's travel between ends that an earlier question had to solve for. */
  between: { key: string; flow: Flow } | null;
  moment: Moment;
  /** Everything drawn, with what is only tried out. */
  features: Feature[];
}

/** A band of the flows with everything proposed built. */
export const builtBand = defineInquiry({
  needs: PLAN_NEEDS,
  run(given, { last, moment, features, band }: Omit<Trying, 'between'> & { band: Band }) {
    const inputs = { ...given, features: featuresAt(features, moment) };
    const { todayTravel: today } = inputs;
    return solveBuilt(planPairs(inputs), today, last ?? today, band);
  },
});

/** Travel with everything proposed built, against today. */
export const whatIf = defineInquiry({
  needs: [...PLAN_NEEDS, 'passage'],
  run(
    given,
    {
      bands,
      between,
      moment,
      spot,
      asked,
      features,
    }: Omit<Trying, 'last'> & {
      /** What was solved of it. */
      bands: BuiltTravel[];
      spot: { at: Point; reach: number } | null;
      asked: Asked;
    },
    progress,
  ) {
    const inputs = { ...given, features: featuresAt(features, moment) };
    const { todayTravel: today, passage } = inputs;
    const built = joinBuilt(bands);
    const { barricades, doubts, necks } = compareTravel(inputs, today, built);
    progress(0.5);
    const after = passageOn(inputs.resistance, built.flow, built.ground);
    const change: Grid = {
      frame: after.frame,
      cells: after.cells.map((share, i) => share - passage.cells[i]!),
    };
    const pairKey = (from: number, to: number) => `${from} ${to}`;
    // Only between ends of today is anything solved that a later question can use.
    const endsKey = asked.ends && JSON.stringify(asked.ends);
    const former = between?.key === endsKey ? between!.flow : null;
    const { found, solved } = answerAsked(asked, planPairs(inputs), today, built, former);
    return {
      asked: found,
      between: solved && endsKey ? { key: endsKey, flow: solved } : between,
      last: { costs: built.costs, areas: built.areas, flow: built.flow },
      ends: built.ends,
      after,
      change,
      barricades,
      doubts,
      necks: necks.map((neck, k) => {
        const { line } = inputs.necks[k]!;
        const owns = [today.flow, built.flow].map((flow) => {
          const { pairs } = shareAcross(flow, line);
          return new Map(flow.pairs.map(({ pair }, p) => [pairKey(pair.from, pair.to), pairs[p]!]));
        });
        return {
          ...neck,
          pairs: [...new Set(owns.flatMap((own) => [...own.keys()]))].map((key) => {
            const [from, to] = key.split(' ').map(Number) as [number, number];
            return { from, to, before: owns[0]!.get(key) ?? 0, after: owns[1]!.get(key) ?? 0 };
          }),
        };
      }),
      spot: spot && {
        before: shareWithin(today.flow, spot.at, spot.reach),
        after: shareWithin(built.flow, spot.at, spot.reach),
      },
    };
  },
});

/** The closures that would gather more at a neck, by minimum cut, each tried in a new solve. */
export const closures = defineInquiry({
  needs: PLAN_NEEDS,
  run(
    given,
    { moment, neck, goals, ...trying }: Trying & { neck: string | null; goals: Goals | null },
    progress,
  ) {
    const inputs = { ...given, features: featuresAt(trying.features, moment) };
    const { todayTravel: today } = inputs;
    const built = solveBuilt(planPairs(inputs), today);
    progress(0.3);
    const wanted = neck === null ? null : inputs.necks.filter(({ id }) => id === neck);
    return nextClosures(inputs, built, wanted, goals);
  },
});

/** Travel in years to come. */
export const years = defineInquiry({
  needs: PLAN_NEEDS,
  run(
    given,
    {
      features,
      moment,
      years,
      asked,
    }: { features: Feature[]; moment: Moment; years: number[]; asked: Asked },
    progress,
  ) {
    const inputs = { ...given, features: featuresAt(given.features, moment) };
    return { found: travelByYear(inputs, features, moment, years, asked, progress) };
  },
});

/** Two plans side by side, each against today, with the passage of both. */
export const compare = defineInquiry({
  needs: [...PLAN_NEEDS, 'passage', 'junctions'],
  run(
    inputs,
    {
      moment,
      plans,
      asked,
    }: { moment: Moment; plans: { first: Feature[]; second: Feature[] }; asked: Asked },
    progress,
  ) {
    const { passage } = inputs;
    const then = {
      first: featuresAt(plans.first, moment),
      second: featuresAt(plans.second, moment),
    };
    const { built, ...found } = comparePlans(
      inputs,
      then,
      inputs.junctions,
      asked,
      inputs.todayTravel,
      progress,
    );
    const less = (a: Grid, b: Grid): Grid => ({
      frame: a.frame,
      cells: a.cells.map((share, i) => share - b.cells[i]!),
    });
    const first = passageOn(inputs.resistance, built.first.flow, built.first.ground);
    const second = passageOn(inputs.resistance, built.second.flow, built.second.ground);
    return {
      ...found,
      grids: {
        first,
        second,
        firstChange: less(first, passage),
        secondChange: less(second, passage),
        difference: less(second, first),
      },
    };
  },
});

/** Necks over many runs of the uncertain weights. */
export const uncertainty = defineInquiry({
  needs: STUDY_NEEDS,
  run(inputs, { moment, ...options }: StudyOptions & { moment: Moment }, progress) {
    const features = featuresAt(inputs.features, moment);
    const { necks } = studyTravel({ ...inputs, features }, options, part(progress, 0, 1));
    return { necks };
  },
});

/** How much better than chance passage predicts where deer were seen. */
export const sightings = defineInquiry({
  needs: ['passage', 'features'],
  run: ({ passage, features }, _: null) => scoreSightings(passage, sightingsOf(features)),
});

/** Weights fitted to where deer were seen, and whether they foretell what they were not fitted to. */
export const fit = defineInquiry({
  needs: [...WALK_NEEDS, 'assumptions', 'resistance', 'areas', 'travelAreas', 'corridors'],
  run(inputs, { moment, ...options }: FitOptions & { moment: Moment }, progress) {
    const features = featuresAt(inputs.features, moment);
    const pairs = inputs.corridors.map(({ from, to, share }) => ({ from, to, share }));
    return fitWeights({ ...inputs, features, pairs }, sightingsOf(inputs.features), options, progress);
  },
});
