import { z } from 'zod';
import { asked } from './asked-shapes.ts';
import { id, position, spot, spotWithin, trial } from './shapes.ts';

export const travelRequests = {
  /** The travel assumptions in force, with sources. */
  'travel.assumptions': z.object({}).strict(),
  /** Why travel is dear or cheap here, and what passes. */
  'travel.why': z.object(spot).strict(),
  /**
   * Travel with everything proposed built, against today. The first one solves today's travel, so a window asks
   * once, with nothing on trial, when its planning begins.
   */
  'travel.whatIf': z
    .object({
      trial,
      /** A spot to watch; reach in m. */
      spot: spotWithin.nullable().default(null),
      ...asked,
    })
    .strict(),
  /**
   * Which further closures would gather most at a neck, or past the spot of the goal to gather; with neither the tool
   * chooses among the owner's best necks.
   */
  'travel.closures': z.object({ neck: id.nullable(), trial, goals: asked.goals }).strict(),
  /**
   * Travel in years to come, as it then is and with everything proposed: barricades rot, cuts thicken; takes a while,
   * with progress.
   */
  'travel.years': z
    .object({
      trial,
      years: z.array(z.number().int().min(0).max(20)).min(1).max(10).default([0, 1, 2, 3, 5]),
      ...asked,
    })
    .strict(),
  /** Whose travel, and when; chosen by the setting travel.set. */
  'travel.sets': z.object({}).strict(),
  /** Necks over many runs of the uncertain weights; takes a while, with progress. */
  'travel.uncertainty': z.object({ runs: z.number().int().min(1).max(500) }).strict(),
  /** How passage compares with where deer were seen. */
  'travel.sightings': z.object({}).strict(),
  /** Weights fitted to where deer were seen; takes a while, with progress. Nothing is changed by it. */
  'travel.fit': z.object({}).strict(),
  /** Takes the weights last offered over as the assumption set in force; one edit. */
  'travel.takeFit': z.object({}).strict(),
  /** How many places marked by someone who has not seen the necks lie near one; reach in m. */
  'travel.blindTrial': z
    .object({ marks: z.array(position).min(1).max(200), reach: z.number().min(1).max(500) })
    .strict(),
} as const;
