import { z } from 'zod';
import { SCREEN_PLANTS } from '../../core/stands/screen-growth.ts';
import { id } from './shapes.ts';
import { tried } from './stands-requests.ts';

/** Screens of grass, conifers or brush tried out. Lengths in m. */

export const screenRequests = {
  /** What a screen hides, year by year: a crescent round a blind, a line beside a way, or one that is drawn. */
  'stands.screen': z
    .object({
      ...tried,
      shape: z.enum(['crescent', 'beside', 'drawn']),
      /** The road, trail or way in that is to be hidden; null hides the stand. */
      way: id.nullable().default(null),
      /** The screen of the map, where it is one that is drawn. */
      screen: id.nullable().default(null),
      /** Null takes what the drawn screen says, or switchgrass. */
      plant: z.enum(SCREEN_PLANTS).nullable().default(null),
      rows: z.number().int().min(1).max(30).default(3),
      rowSpacing: z.number().min(0.3).max(5).default(0.9),
      /** Of the crescent. */
      radius: z.number().min(1).max(60).default(5),
      /** Degrees from true north the crescent opens to; null is away from the travel. */
      opens: z.number().min(0).max(360).nullable().default(null),
      /** Degrees it is open over. */
      gap: z.number().min(10).max(180).default(90),
      /** How far beside the way. */
      offset: z.number().min(1).max(60).default(4),
      /** Side of the way as it is drawn; null takes the better one. */
      side: z.enum(['left', 'right']).nullable().default(null),
    })
    .strict(),
} as const;
