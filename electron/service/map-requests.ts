import { z } from 'zod';

const height = z.number().min(0).max(200);

/** Requests of the map's own tools: measuring along a line, and the ground as a coarse block of heights. */
export const mapToolRequests = {
  /** Ground, slope and cover along a line of straight legs, and whether its far end is in sight of its start. */
  'map.profile': z
    .object({
      path: z
        .array(z.tuple([z.number(), z.number()]))
        .min(2)
        .max(500),
      observerHeight: height,
      targetHeight: height,
    })
    .strict(),
  /**
   * Mean heights on cells so large that neither side has more than `most`. Answers with bytes, little-endian:
   * three 32-bit unsigned numbers (columns, rows, cells of the frame a side of one), then that many 32-bit
   * floats by rows from the north-west, m, NaN where the ground is not known.
   */
  'map.heights': z.object({ most: z.number().int().min(16).max(1024) }).strict(),
} as const;
