import { z } from 'zod';

/** Pieces that the schemas of several rooms' requests share. */

export const id = z.string().min(1).max(200);
export const path = z.string().min(1).max(4096);
export const position = z.tuple([z.number(), z.number()]);

const geometry = z.union([
  z.object({ type: z.literal('Point'), coordinates: position }),
  z.object({ type: z.literal('LineString'), coordinates: z.array(position).min(2).max(100_000) }),
  z.object({
    type: z.literal('Polygon'),
    coordinates: z.array(z.array(position).min(4).max(100_000)).min(1).max(1000),
  }),
  z.object({ type: z.literal('MultiPoint'), coordinates: z.array(position).max(100_000) }),
  z.object({
    type: z.literal('MultiLineString'),
    coordinates: z.array(z.array(position).min(2)).max(10_000),
  }),
  z.object({
    type: z.literal('MultiPolygon'),
    coordinates: z.array(z.array(z.array(position).min(4)).min(1)).max(10_000),
  }),
]);

export const feature = z.object({
  id,
  kind: id,
  status: z.enum(['existing', 'proposed']),
  name: z.string().max(500).nullable(),
  geometry,
  attributes: z.record(z.string(), z.union([z.string().max(10_000), z.number(), z.boolean(), z.null()])),
  source: z.string().max(4096),
});

export const spot = { x: z.number(), y: z.number() };
/** A spot and how far around it counts, m. */
export const spotWithin = z.object({ ...spot, reach: z.number().min(1).max(1000) }).strict();
/** Features tried out without being saved, laid over what is drawn by their ids; proposed ones count as built. */
export const trial = z.array(feature).max(50).default([]);
