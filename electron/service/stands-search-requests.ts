import { z } from 'zod';
import { id } from './shapes.ts';

/** Where stands should go: what there is side by side, what to do with each, where new ones pay. */

export const standsSearchRequests = {
  /** Stands side by side; null for every stand on the map. */
  'stands.compare': z.object({ stands: z.array(id).min(1).max(12).nullable().default(null) }).strict(),
} as const;
