import { z } from 'zod';
import { asked } from './asked-shapes.ts';
import { id } from './shapes.ts';

const name = z.string().trim().min(1).max(100);

/** Plans kept side by side: what is proposed belongs to one of them, and one is chosen. Every change can be undone. */
export const variantRequests = {
  'plan.variants': z.object({}).strict(),
  /** A new variant, which is chosen at once: empty, or with copies of what another proposes. */
  'plan.createVariant': z.object({ name, copyOf: id.nullable() }).strict(),
  'plan.renameVariant': z.object({ id, name }).strict(),
  /** Takes a variant away with all it proposes; the last one stays. */
  'plan.removeVariant': z.object({ id }).strict(),
  /** The variant that is shown, analyzed and written out. */
  'plan.chooseVariant': z.object({ id }).strict(),
  /** Two variants side by side, each against today; takes a while, with progress. */
  'travel.compare': z.object({ first: id, second: id, ...asked }).strict(),
} as const;
