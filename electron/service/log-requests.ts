import { z } from 'zod';

/** After the hunt: what was logged against what was expected. Sits and what was seen are features, put and undone as such. */

export const logRequests = {
  'stands.log': z.object({}).strict(),
} as const;
