import { findAreas } from '../../travel/areas.ts';
import { travelAssumptions, weightsOf } from '../../travel/assumptions.ts';
import { barriersOf } from '../../travel/barriers.ts';
import { findCorridors } from '../../travel/corridors.ts';
import { moveCosts } from '../../travel/edges.ts';
import { planTravel } from '../../travel/plan-travel.ts';
import { resistanceOf } from '../../travel/resistance.ts';
import { studyTravel } from '../../travel/study.ts';
import { defineStep } from '../step.ts';

const resistance = defineStep({
  name: 'travel.resistance',
  version: 1,
  title: 'Weighing the ground for travel',
  needs: ['cover', 'canopy', 'screening', 'footing', 'slope', 'edgeDistance', 'features'],
  makes: ['assumptions', 'resistance'],
  params: ({ weights }) => ({ weights }),
  run(inputs, { weights }, progress) {
    const assumptions = travelAssumptions(weights);
    const resistance = resistanceOf(inputs, weightsOf(assumptions));
    progress(1);
    return { assumptions, resistance };
  },
});

const areas = defineStep({
  name: 'travel.areas',
  version: 1,
  title: 'Finding where travel starts and ends',
  needs: ['blocks', 'coverBlocks', 'edgeDistance', 'benches', 'features', 'resistance'],
  makes: ['areas', 'travelAreas'],
  params: () => null,
  run(inputs, _params, progress) {
    const { areas, table } = findAreas({ frame: inputs.resistance.frame, ...inputs });
    progress(1);
    return { areas, travelAreas: table };
  },
});

const corridors = defineStep({
  name: 'travel.corridors',
  version: 1,
  title: 'Tracing corridors',
  needs: ['resistance', 'areas', 'travelAreas', 'assumptions', 'features'],
  makes: ['corridors'],
  params: ({ travel: { maxPairs } }) => ({ maxPairs }),
  run({ resistance, areas, travelAreas, assumptions, features }, { maxPairs }, progress) {
    const weights = weightsOf(assumptions);
    const crossings = moveCosts(resistance.frame, barriersOf(features, weights));
    return {
      corridors: findCorridors(resistance, areas, travelAreas, crossings, weights, maxPairs, progress),
    };
  },
});

/** One step, because necks and crossings are read off the same flow that makes the passage. */
const passage = defineStep({
  name: 'travel.passage',
  version: 2,
  title: 'Solving the flow and finding its necks',
  needs: [
    'cover',
    'canopy',
    'screening',
    'footing',
    'slope',
    'edgeDistance',
    'features',
    'coverSource',
    'assumptions',
    'resistance',
    'areas',
    'travelAreas',
    'corridors',
    'saddles',
    'benches',
    'draws',
  ],
  makes: ['passage', 'necks', 'junctions', 'crossings', 'routes', 'travelDoubts'],
  params: ({ travel: { maxNecks, runs, seed } }) => ({ maxNecks, runs, seed }),
  run(inputs, params, progress) {
    const { doubts, ...found } = studyTravel(inputs, params, progress);
    return { ...found, travelDoubts: doubts };
  },
});

const plan = defineStep({
  name: 'travel.plan',
  version: 1,
  title: 'Trying what is proposed',
  needs: [
    'cover',
    'canopy',
    'screening',
    'footing',
    'slope',
    'edgeDistance',
    'features',
    'assumptions',
    'resistance',
    'areas',
    'corridors',
    'necks',
  ],
  makes: ['planTravel'],
  params: () => null,
  run: (inputs, _params, progress) => ({ planTravel: planTravel(inputs, progress) }),
});

export const travelSteps = [resistance, areas, corridors, passage, plan] as const;
