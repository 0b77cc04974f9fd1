import { z } from 'zod';

/** Requests about a plan the program drafts. */
export const draftRequests = {
  /**
   * A plan to argue with, in three sizes: what could be proposed on the client's own ground, why, and what it takes.
   * Nothing is changed by it. Takes a minute or two with new stands sought, else some seconds; with progress.
   */
  'plan.draft': z.object({ stands: z.boolean().default(true) }).strict(),
} as const;
