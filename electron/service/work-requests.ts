import { z } from 'zod';

/** Requests of the Work stage. */
export const workRequests = {
  /** Every job with quantities, hours, money, days and order; rates and calendar with their sources. */
  'work.plan': z.object({}).strict(),
  /** Tries travel without each open job in turn, for what it gains; takes a while, with progress. */
  'work.gains': z.object({}).strict(),
} as const;
