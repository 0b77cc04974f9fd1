import { z } from 'zod';

/** Requests of the Work stage. */
export const workRequests = {
  /** Every job with quantities, hours, money, days and order; rates and calendar with their sources. */
  'work.plan': z.object({}).strict(),
  /** Tries every open job for what it gains, in so many worlds of drawn weights for its band; takes a while, with progress. */
  'work.gains': z.object({ worlds: z.number().int().min(0).max(32) }).strict(),
  /** What the answers of the brief set elsewhere, and whether it is so. */
  'brief.defaults': z.object({}).strict(),
  /** Takes one setting from the brief again, by its place among the settings. */
  'brief.take': z.object({ key: z.string().max(100) }).strict(),
  /** Stops where the answer hinges on what no raster shows; null before the scout is done. */
  'walk.list': z.object({}).strict(),
  /** What was found at a stop: a choice by its key, words, or both. */
  'walk.answer': z
    .object({ stop: z.string().max(200), choice: z.string().max(40).nullable(), text: z.string().max(2000) })
    .strict(),
} as const;
