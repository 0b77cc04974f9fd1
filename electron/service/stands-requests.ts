import { z } from 'zod';
import { WALK_TIMES, WEAPONS } from '../../core/stands/types.ts';

/** Questions of stands: what one reaches, what lies behind, who sees it, how to get in and out. Lengths in m. */

const id = z.string().min(1).max(200);
const position = z.tuple([z.number(), z.number()]);

/** A stand on the map, moved or changed as it is tried out, or a bare spot. What is null is the stand's own or usual. */
export const tried = {
  stand: id.nullable().default(null),
  at: position.nullable().default(null),
  seatHeight: z.number().min(0).max(30).nullable().default(null),
  weapon: z.enum(WEAPONS).nullable().default(null),
  range: z.number().min(1).max(1000).nullable().default(null),
};

export const standsRequests = {
  /** What a stand reaches and sees, what lies behind a deer, and how it is hidden; quick enough to follow a drag. */
  'stands.look': z.object({ ...tried, leaves: z.enum(['on', 'off']).nullable().default(null) }).strict(),
  /** Two or three ways in with what each costs. */
  'stands.approach': z
    .object({
      ...tried,
      time: z.enum(WALK_TIMES),
      mode: z.enum(['foot', 'vehicle']).default('foot'),
      /** A feature to start from; null for the places people come from. */
      from: id.nullable().default(null),
      /** Degrees from true north the wind comes from; null for a calm, when air drains downhill. */
      windFrom: z.number().min(0).max(360).nullable().default(null),
      /** Null leaves it to the setting. */
      allowNeighbour: z.boolean().nullable().default(null),
    })
    .strict(),
} as const;
