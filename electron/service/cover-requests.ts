import { z } from 'zod';
import { position } from './shapes.ts';

/** Cover as it was seen, painted on the map. Lengths in m. */

/** Classes a brush can paint, by their words. */
const PAINTABLE = ['open', 'brush', 'deciduous', 'evergreen', 'wet', 'water', 'built'] as const;

export const coverRequests = {
  /** One stroke of the brush: the ground it covers becomes an area of cover as seen, in one edit. */
  'cover.paint': z
    .object({
      path: z.array(position).min(1).max(20_000),
      width: z.number().min(0.5).max(500),
      cover: z.enum(PAINTABLE),
    })
    .strict(),
} as const;
