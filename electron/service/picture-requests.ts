import { z } from 'zod';
import { id, position } from './shapes.ts';

/** The same spot on the picture, in pixels, and on the map, m. */
const pin = z.strictObject({ at: position, to: position });

/** Scans and photos laid over the map by pins. Their pins are in the settings, which `settings.change` moves. */
export const pictureRequests = {
  /** Keeps a staged file as a picture of the open property. */
  'pictures.keep': z.object({ staging: id, name: z.string().min(1).max(255) }).strict(),
  /** How pins lay a picture on the map, and by how much each is missed. */
  'pictures.fit': z.object({ pins: z.array(pin).max(60) }).strict(),
} as const;
