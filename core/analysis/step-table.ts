import type { AnyStep } from './plan-run.ts';
import { airSteps } from './steps/air.ts';
import { coverSteps } from './steps/cover.ts';
import { groundSteps } from './steps/ground.ts';
import { standSteps } from './steps/stands.ts';
import { surroundingsSteps } from './steps/surroundings.ts';
import { travelSteps } from './steps/travel.ts';

/** Every step of the analysis. The order here is only for reading: the planner goes by needs and products. */
export const STEPS: readonly AnyStep[] = [
  ...groundSteps,
  ...coverSteps,
  ...travelSteps,
  ...surroundingsSteps,
  ...airSteps,
  ...standSteps,
];
