import { z } from 'zod';
import { id, spotWithin } from './shapes.ts';

/** A travel area by its number in the table `areas`, proposed bedding or food by its feature, or any. */
const area = z.union([z.number().int().min(1), z.literal('all'), z.object({ feature: id }).strict()]);

/** What a comparison of travel is asked besides the necks. */
export const asked = {
  /** Two areas: necks and stand are then also answered as shares of the travel between these. */
  pair: z.object({ from: area, to: area }).strict().nullish(),
  /** A drawn stand, by its own range where no reach is given, or a spot. */
  stand: z
    .union([z.object({ feature: id, reach: z.number().min(1).max(1000).optional() }).strict(), spotWithin])
    .nullish(),
  /** Travel to gather past a spot, and a spot's downwind side to keep it out of (wind as the station states it). */
  goals: z
    .object({
      gather: spotWithin.nullable(),
      keepOut: spotWithin.extend({ windFrom: z.number().min(0).max(360) }).nullable(),
    })
    .strict()
    .nullish(),
};
