import { z } from 'zod';
import { SEATS } from '../../core/stands/site-spots.ts';
import { WEAPONS } from '../../core/stands/types.ts';
import { id } from './shapes.ts';

/** Where stands should go: what there is side by side, what to do with each, where new ones pay. */

export const standsSearchRequests = {
  /** Stands side by side; null for every stand on the map. */
  'stands.compare': z.object({ stands: z.array(id).min(1).max(12).nullable().default(null) }).strict(),
  /** What to do with each existing stand, and what the smallest change that helps gains; takes a minute or so. */
  'stands.rulings': z.object({}).strict(),
  /** Where a camera would settle most doubt; takes a few seconds. */
  'stands.cameras': z.object({}).strict(),
  /** Where new stands would pay on the client's own ground; takes a minute or two. Lengths in m. */
  'stands.search': z
    .object({
      /** What may be sat in: any takes a tree where timber stands and a tower elsewhere. */
      seat: z.enum(SEATS).default('any'),
      weapon: z.enum(WEAPONS).default('bow'),
      /** Null leaves it to the setting. */
      range: z.number().min(1).max(1000).nullable().default(null),
      count: z.number().int().min(1).max(8).default(4),
      /** The plan whose travel counts; null for travel as it is today. */
      plan: id.nullable().default(null),
    })
    .strict(),
} as const;
