import { PLAN_NEEDS } from '../../../core/analysis/steps/travel.ts';
import type { Feature } from '../../../core/features/feature.ts';
import type { Units } from '../../../core/features/units.ts';
import { part } from '../../../core/grid/progress.ts';
import { draftEffects } from '../../../core/plan/draft.ts';
import { draftBeds } from '../../../core/plan/draft-beds.ts';
import { beginTrials, draftTravel } from '../../../core/plan/draft-travel.ts';
import type { DraftFound } from '../../../core/plan/draft-types.ts';
import { rateOf, rateTable } from '../../../core/plan/rates.ts';
import type { BeddingProposal } from '../../../core/stands/bedding-proposal.ts';
import { featuresAt, type Moment } from '../../../core/travel/moment.ts';
import { defineInquiry } from './inquiry.ts';

interface Drawn {
  moment: Moment;
  /** Everything drawn, proposals among it. */
  features: Feature[];
  rates: Record<string, number>;
  units: Units;
  prefix: string;
}

const DRAFT_NEEDS = [...PLAN_NEEDS, 'routes'] as const;

const rulesOf = ({ rates, units, prefix }: Drawn) => ({ rate: rateOf(rateTable(rates)), units, prefix });

/** What could be built for travel and bedding, each idea solved by itself. */
export const ideas = defineInquiry({
  needs: DRAFT_NEEDS,
  run(
    inputs,
    {
      beds,
      names,
      ...drawn
    }: Drawn & {
      beds: BeddingProposal[];
      /** Each bed's trail in words, by its route. */
      names: Record<string, string>;
    },
    progress,
  ): DraftFound {
    const features = featuresAt(drawn.features, drawn.moment);
    const trials = beginTrials({ ...inputs, features }, rulesOf(drawn));
    progress(0.05);
    const travel = draftTravel(trials, part(progress, 0.05, 0.85));
    const bedding = draftBeds(trials, beds, (route) => names[route] ?? 'by it');
    progress(1);
    return {
      ideas: [...travel.ideas, ...bedding.ideas],
      passed: [...travel.passed, ...bedding.passed],
    };
  },
});

/** Sizes of a draft, each built as a whole. */
export const effects = defineInquiry({
  needs: DRAFT_NEEDS,
  run(inputs, { sets, ...drawn }: Drawn & { sets: Feature[][] }) {
    const features = featuresAt(drawn.features, drawn.moment);
    return { effects: draftEffects(beginTrials({ ...inputs, features }, rulesOf(drawn)), sets) };
  },
});
