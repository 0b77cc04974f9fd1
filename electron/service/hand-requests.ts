import { z } from 'zod';
import { hourAir } from './air-requests.ts';
import { feature, id, spot } from './shapes.ts';

/** What is under the hand: short questions of the spot the pointer rests on. Lengths in m. */
export const handRequests = {
  /** Where a deer here goes next, by the travel of today. */
  'hand.onward': z.object({ ...spot, ahead: z.number().min(20).max(1000).optional() }).strict(),
  /** Makes the air of an hour ready for spots asked one after another; takes seconds the first time. */
  'hand.air': z.object(hourAir).strict(),
  /** Where a person on foot here is smelled in the air of that hour, at a first look. */
  'hand.smelled': z.object({ ...spot, ...hourAir }).strict(),
  /**
   * Travel with a proposal where it is dragged to, everything else as proposed, against today: what the map draws while
   * it is dragged. The neck asked about is told first.
   */
  'hand.dragged': z.object({ feature, neck: id.nullable() }).strict(),
} as const;
