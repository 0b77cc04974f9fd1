import { PLAN_NEEDS } from '../../../core/analysis/steps/travel.ts';
import { existing, type Feature } from '../../../core/features/feature.ts';
import type { Units } from '../../../core/features/units.ts';
import { part } from '../../../core/grid/progress.ts';
import {
  hoursOfTries,
  type TrialRules,
  type TriedStand,
  type Try,
  withBuilt,
} from '../../../core/plan/job-trial.ts';
import { HUNTED, type HuntedPart } from '../../../core/stands/case-verdict.ts';
import { closeGround } from '../../../core/stands/closed-ground.ts';
import { readyGround } from '../../../core/stands/judge-way.ts';
import type { QuietGround } from '../../../core/stands/quiet-ground.ts';
import { reachMask, subjectOf } from '../../../core/stands/reach-mask.ts';
import { scentMask } from '../../../core/stands/scent-mask.ts';
import { WALKS, type WayRules, wayOptions } from '../../../core/stands/sitting.ts';
import { standWays, wayAt } from '../../../core/stands/stand-ways.ts';
import type { Leaves, StandSpot } from '../../../core/stands/types.ts';
import { walkSurface } from '../../../core/stands/walk-surface.ts';
import { asBuilt } from '../../../core/travel/built-ground.ts';
import { drawnWorld, usualWorld } from '../../../core/travel/drawn-world.ts';
import { featuresAt, type Moment } from '../../../core/travel/moment.ts';
import { planPairs } from '../../../core/travel/plan-travel.ts';
import { drawWeights } from '../../../core/travel/uncertainty.ts';
import { defineInquiry } from './inquiry.ts';
import { WAY_NEEDS } from './stands.ts';
import { type Hunt, inSeasonAir, VERDICT_NEEDS } from './verdict.ts';

/** Share of the work that goes into the air of the season. */
const AIR = 0.3;

/** Where the scent of some stands counts, and what they reach: what does not hang on where deer walk. */
export const scents = defineInquiry({
  needs: VERDICT_NEEDS,
  run(inputs, asked: { spots: StandSpot[]; hunt: Hunt }, progress) {
    const ground = { ...inputs, routes: [] };
    return inSeasonAir(inputs, asked, AIR, progress, (spot, air, told) => ({
      mask: scentMask(subjectOf(spot), { ...inputs, ground }, air, told),
      reach: reachMask(inputs, spot, asked.hunt.leaves),
    }));
  },
});

/** For which parts of the day no clean way leads to each stand, with some jobs built. */
export const lostWays = defineInquiry({
  needs: WAY_NEEDS,
  run(
    inputs,
    asked: {
      spots: StandSpot[];
      /** Everything drawn, and what is built of it in each try. */
      features: Feature[];
      tries: string[][];
      rules: WayRules;
      leaves: Leaves;
      closed: QuietGround[];
      units: Units;
    },
    progress,
  ) {
    const { spots, tries, rules, leaves, closed, units } = asked;
    const ready = readyGround({ ...inputs, features: asked.features }, leaves);
    const needs = spots.map(() =>
      [...new Set(HUNTED.flatMap((each) => WALKS[each]))].map((time) => ({ time, wind: null })),
    );
    const options = wayOptions(inputs, rules);
    const lost = tries.map((built, k) => {
      const features = asBuilt(withBuilt(asked.features, built));
      // Where deer watch from is today's; only the ground a walker goes over is another.
      const ground = { ...ready.ground, features };
      const surface = walkSurface(inputs, features);
      const there = closeGround({ ...ready, ground, surface }, closed);
      const found = standWays(spots, needs, there, options, units);
      progress((k + 1) / tries.length);
      return found.map((ways): HuntedPart[] =>
        HUNTED.filter((each) => WALKS[each].some((time) => wayAt(ways, time, '')?.clean === false)),
      );
    });
    return { lost };
  },
});

/** Clean hours a season of some tries, in today's world, in the usual one on wider cells, or in a drawn one. */
export const hours = defineInquiry({
  needs: PLAN_NEEDS,
  run(
    inputs,
    asked: {
      moment: Moment;
      features: Feature[];
      stands: TriedStand[];
      tries: Try[];
      rules: Omit<TrialRules, 'lean' | 'seed'>;
      seed: number;
      world: 'plan' | 'usual' | { drawn: number; of: number };
    },
    progress,
  ) {
    const { moment, stands, tries, rules, seed, world } = asked;
    const now = featuresAt(inputs.features, moment);
    const given = planPairs({ ...inputs, features: existing(now) });
    const features = featuresAt(asked.features, moment);
    const drawn = typeof world === 'object' ? world.drawn + 1 : 0;
    const usual = world === 'plan' ? given : usualWorld(given);
    const there =
      typeof world === 'object'
        ? drawnWorld(usual, drawWeights(inputs.assumptions, world.of, seed)[world.drawn]!)
        : usual;
    progress(0.2);
    const found = hoursOfTries(
      there,
      features,
      stands,
      tries,
      { ...rules, seed: seed + drawn, lean: drawn > 0 ? seed + drawn : null },
      part(progress, 0.2, 1),
    );
    return { hours: found };
  },
});
