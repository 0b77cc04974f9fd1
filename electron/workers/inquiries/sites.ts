import { PLAN_NEEDS } from '../../../core/analysis/steps/travel.ts';
import type { Feature } from '../../../core/features/feature.ts';
import type { Units } from '../../../core/features/units.ts';
import { part } from '../../../core/grid/progress.ts';
import { cameraPlaces } from '../../../core/stands/camera.ts';
import { huntAir } from '../../../core/stands/hunt-air.ts';
import type { RuledStand } from '../../../core/stands/ruling-types.ts';
import { ruleStands } from '../../../core/stands/rulings.ts';
import type { SiteRules, SiteWish } from '../../../core/stands/site-ground.ts';
import { travelPlanned, travelToday } from '../../../core/stands/site-plan.ts';
import { searchSites } from '../../../core/stands/site-search.ts';
import { featuresAt, type Moment } from '../../../core/travel/moment.ts';
import { defineInquiry } from './inquiry.ts';
import { type Hunt, VERDICT_NEEDS } from './verdict.ts';

/** What everything about stands rests on. */
const ALL_NEEDS = [...VERDICT_NEEDS, ...PLAN_NEEDS, 'junctions', 'routes', 'airBearing'] as const;

/** Share of the work that goes into the air of the season where it is not there yet. */
const AIR = 0.2;

/** Where new stands would pay, with travel as it is or as a plan makes it. */
export const sites = defineInquiry({
  needs: ALL_NEEDS,
  run(
    inputs,
    {
      wish,
      rules,
      hunt,
      plan,
    }: {
      wish: SiteWish;
      rules: SiteRules;
      hunt: Hunt;
      /** Everything that exists with what a plan proposes; null for today. */
      plan: { features: Feature[]; moment: Moment } | null;
    },
    progress,
  ) {
    const air = hunt.air ?? huntAir(inputs, hunt.season, hunt.cooling, part(progress, 0, AIR));
    const from = hunt.air ? 0 : AIR;
    const travel = plan
      ? travelPlanned(inputs, featuresAt(plan.features, plan.moment), hunt.seed)
      : travelToday(inputs, hunt.seed);
    progress(from + 0.03);
    const found = searchSites({ ...inputs, ...travel }, air, wish, rules, part(progress, from + 0.03, 1));
    return { found, air: hunt.air ? null : air };
  },
});

/** Where a camera would settle most doubt. */
export const cameras = defineInquiry({
  needs: [...PLAN_NEEDS, 'junctions'],
  run: (inputs, { moment, ...options }: { moment: Moment; seed: number; units: Units }, progress) =>
    cameraPlaces({ ...inputs, features: featuresAt(inputs.features, moment) }, options, progress),
});

/** What to do with each stand, with every change run through the verdict again. */
export const rulings = defineInquiry({
  needs: ALL_NEEDS,
  run(inputs, { stands, rules, hunt }: { stands: RuledStand[]; rules: SiteRules; hunt: Hunt }, progress) {
    const air = hunt.air ?? huntAir(inputs, hunt.season, hunt.cooling, part(progress, 0, AIR));
    const from = hunt.air ? 0 : AIR;
    const ground = { ...inputs, ...travelToday(inputs, hunt.seed) };
    return {
      found: ruleStands(stands, ground, air, rules, part(progress, from, 1)),
      air: hunt.air ? null : air,
    };
  },
});
