import { z } from 'zod';
import { spot } from './shapes.ts';

/** What is under the hand: short questions of the spot the pointer rests on. Lengths in m. */
export const handRequests = {
  /** Where a deer here goes next, by the travel of today. */
  'hand.onward': z.object({ ...spot, ahead: z.number().min(20).max(1000).optional() }).strict(),
} as const;
