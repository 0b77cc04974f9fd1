import { prevailingByDay } from '../../air/prevailing.ts';
import { CRUISING } from '../../air/season.ts';
import { existing, ofKind } from '../../features/feature.ts';
import { findAreas } from '../../travel/areas.ts';
import { travelAssumptions, weightsOf } from '../../travel/assumptions.ts';
import { barriersOf } from '../../travel/barriers.ts';
import { findBeds, type PrevailingWind } from '../../travel/beds.ts';
import { findCorridors } from '../../travel/corridors.ts';
import { moveCosts } from '../../travel/edges.ts';
import { featuresAt } from '../../travel/moment.ts';
import { planTravel } from '../../travel/plan-travel.ts';
import { reliefGround } from '../../travel/relief.ts';
import { resistanceOf } from '../../travel/resistance.ts';
import { judgeSought, seek, trySought } from '../../travel/study.ts';
import { underfootOf } from '../../travel/underfoot.ts';
import { solveToday } from '../../travel/what-if.ts';
import type { Artifacts } from '../artifacts.ts';
import { defineStep } from '../step.ts';

/** What the cost of walking a cell rests on. */
export const WALK_NEEDS = [
  'cover',
  'canopy',
  'screening',
  'footing',
  'slope',
  'elevation',
  'edgeDistance',
  'features',
] as const;

/** What travel is compared on, before and after. */
export const PLAN_NEEDS = [
  ...WALK_NEEDS,
  'assumptions',
  'resistance',
  'areas',
  'travelAreas',
  'corridors',
  'necks',
  'todayTravel',
] as const;

/** What the flow is solved on and its necks are named by. */
export const STUDY_NEEDS = [
  ...WALK_NEEDS,
  'coverSource',
  'assumptions',
  'resistance',
  'areas',
  'travelAreas',
  'corridors',
  'todayTravel',
  'saddles',
  'benches',
  'draws',
] as const;

const resistance = defineStep({
  name: 'travel.resistance',
  version: 4,
  title: 'Weighing the ground for travel',
  needs: WALK_NEEDS,
  makes: ['assumptions', 'resistance'],
  params: ({ weights, travel: { set, fitted, date, year } }) => ({
    weights,
    set,
    // Of no matter while another set is chosen.
    ...(set === 'fitted' ? { fitted } : {}),
    date,
    year,
  }),
  run(inputs, { weights, set, fitted, ...moment }, progress) {
    const assumptions = travelAssumptions(weights, set, fitted);
    const features = featuresAt(inputs.features, moment);
    const resistance = resistanceOf({ ...inputs, features }, weightsOf(assumptions));
    progress(1);
    return { assumptions, resistance };
  },
});

const areas = defineStep({
  name: 'travel.areas',
  version: 3,
  title: 'Finding where travel starts and ends',
  needs: [
    'elevation',
    'cover',
    'screening',
    'forms',
    'blocks',
    'coverBlocks',
    'edgeDistance',
    'benches',
    'features',
    'resistance',
    'windSeason',
  ],
  makes: ['areas', 'travelAreas'],
  params: ({ travel: { date, year } }) => ({ date, year }),
  run(inputs, moment, progress) {
    const { frame } = inputs.resistance;
    const features = featuresAt(inputs.features, moment);
    const wind = windOf(inputs.windSeason, moment.date, frame.convergence);
    const drawn = ofKind(existing(features), 'bedding').length > 0;
    const beds = drawn ? [] : findBeds({ ...inputs, features, wind, date: moment.date });
    const { areas, table } = findAreas({ ...inputs, frame, features, beds });
    progress(1);
    return { areas, travelAreas: table };
  },
});

/** The day wind of the weeks bucks cruise when the date lies in them, else of the whole year. */
function windOf(
  season: Artifacts['windSeason'],
  date: string | null,
  convergence: number,
): PrevailingWind | null {
  if (!season) return null;
  const words = ({ month, day }: { month: number; day: number }): string =>
    `${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
  const cruising = date !== null && date >= words(CRUISING.from) && date <= words(CRUISING.to);
  return prevailingByDay(cruising ? season.cruising : season.year, convergence);
}

const corridors = defineStep({
  name: 'travel.corridors',
  version: 7,
  title: 'Tracing corridors',
  needs: ['elevation', 'slope', 'resistance', 'areas', 'travelAreas', 'assumptions', 'features'],
  makes: ['corridors'],
  params: ({ travel: { maxPairs, date, year } }) => ({ maxPairs, date, year }),
  run(
    { elevation, slope, resistance, areas, travelAreas, assumptions, ...given },
    { maxPairs, ...moment },
    progress,
  ) {
    const weights = weightsOf(assumptions);
    const features = featuresAt(given.features, moment);
    const underfoot = underfootOf(reliefGround(elevation), features, weights);
    const walked = { resistance, underfoot };
    const crossings = moveCosts(resistance.frame, barriersOf(features, weights, slope), walked);
    return {
      corridors: findCorridors(resistance, areas, travelAreas, crossings, weights, maxPairs, progress),
    };
  },
});

const today = defineStep({
  name: 'travel.today',
  version: 7,
  title: 'Solving the flow of travel',
  needs: [...WALK_NEEDS, 'assumptions', 'resistance', 'areas', 'corridors'],
  makes: ['todayTravel'],
  params: ({ travel: { date, year } }) => ({ date, year }),
  run({ corridors, ...inputs }, moment, progress) {
    const features = featuresAt(inputs.features, moment);
    const pairs = corridors.map(({ from, to, share }) => ({ from, to, share }));
    return { todayTravel: solveToday({ ...inputs, features, pairs }, progress) };
  },
});

const sought = defineStep({
  name: 'travel.sought',
  version: 3,
  title: 'Finding necks, junctions and crossings',
  needs: STUDY_NEEDS,
  makes: ['sought'],
  params: ({ travel: { maxNecks, date, year } }) => ({ maxNecks, date, year }),
  run(inputs, { maxNecks, ...moment }, progress) {
    const features = featuresAt(inputs.features, moment);
    const sought = seek({ ...inputs, features }, maxNecks);
    progress(1);
    return { sought };
  },
});

const TRIAL_BANDS = 4;

/** The trials are several steps, so that workers may share them beside what else waits. */
const trialsStep = <Made extends `trials${1 | 2 | 3 | 4}`>(made: Made, index: number) =>
  defineStep({
    name: `travel.${made}`,
    version: 2,
    title: `Trying other weights and models, ${index + 1} of ${TRIAL_BANDS}`,
    needs: [...STUDY_NEEDS, 'sought'],
    makes: [made],
    params: ({ travel: { runs, seed, date, year } }) => ({ runs, seed, date, year }),
    run({ sought, ...inputs }, { date, year, ...options }, progress) {
      const features = featuresAt(inputs.features, { date, year });
      const band = { index, count: TRIAL_BANDS };
      const trials = trySought({ ...inputs, features }, sought, options, progress, band);
      return { [made]: trials } as Record<Made, typeof trials>;
    },
  });
const trials1 = trialsStep('trials1', 0);
const trials2 = trialsStep('trials2', 1);
const trials3 = trialsStep('trials3', 2);
const trials4 = trialsStep('trials4', 3);

const passage = defineStep({
  name: 'travel.passage',
  version: 17,
  title: 'Telling how sure the necks are',
  needs: [...STUDY_NEEDS, 'sought', 'trials1', 'trials2', 'trials3', 'trials4', 'marginShares'],
  makes: ['passage', 'necks', 'junctions', 'crossings', 'routes', 'travelDoubts'],
  params: ({ travel: { maxNecks, seed, date, year } }) => ({ maxNecks, seed, date, year }),
  run(
    { sought, trials1, trials2, trials3, trials4, marginShares, ...inputs },
    { date, year, ...options },
    progress,
  ) {
    const features = featuresAt(inputs.features, { date, year });
    const trials = [...trials1, ...trials2, ...trials3, ...trials4];
    const { doubts, ...found } = judgeSought({ ...inputs, features }, sought, trials, options, marginShares);
    progress(1);
    return { ...found, travelDoubts: doubts };
  },
});

const plan = defineStep({
  name: 'travel.plan',
  version: 11,
  title: 'Trying what is proposed',
  // The necks' places are enough, so that it need not wait for the trials.
  needs: [...PLAN_NEEDS.filter((need) => need !== 'necks'), 'sought'],
  makes: ['planTravel'],
  proposed: true,
  params: ({ travel: { date, year } }) => ({ date, year }),
  run({ sought, ...inputs }, moment, progress) {
    const features = featuresAt(inputs.features, moment);
    return { planTravel: planTravel({ ...inputs, necks: sought.places, features }, progress) };
  },
});

/** The steps from cover and ground to the flow of travel. */
export const flowSteps = [resistance, areas, corridors, today] as const;

export const travelSteps = [...flowSteps, sought, plan, trials1, trials2, trials3, trials4, passage] as const;
