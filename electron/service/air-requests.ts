import { z } from 'zod';
import { DAY_PARTS } from '../../core/air/types.ts';

/** Questions of the air. Lengths in m, speeds in m/s, directions in degrees from true north the wind comes from. */

const id = z.string().min(1).max(200);
const position = z.tuple([z.number(), z.number()]);
const spot = { x: z.number(), y: z.number() };
/** A day of any year, YYYY-MM-DD. */
const date = z.iso.date();
const share = z.number().min(0).max(1);
/** Share of the sky covered, for all hours or for each hour of standard time; clear where left out. */
const cloud = z.union([share, z.array(share).length(24)]).optional();
/** A day, an hour in standard time by the place's longitude, the wind of the station then, and the sky covered. */
export const hourAir = {
  date,
  hour: z.number().min(0).max(24),
  windFrom: z.number().min(0).max(360),
  windSpeed: z.number().min(0).max(40),
  cloud,
};
const monthDay = z.object({ month: z.number().int().min(1).max(12), day: z.number().int().min(1).max(31) });
const seasonOf = z.object({ from: monthDay, to: monthDay });
/** Null the whole year, left out the cruising weeks. */
const season = seasonOf.nullable().optional();

export const airRequests = {
  /** The wind of a season by part of day and sector, and what the record holds. */
  'air.rose': z.object({ season, parts: z.array(z.enum(DAY_PARTS)).optional() }).strict(),
  /** The air over the whole map at an hour under a wind of the station. */
  'air.clock': z.object(hourAir).strict(),
  /** Where scent let go at a spot goes then; height of the seat. */
  'air.scent': z.object({ ...spot, height: z.number().min(0).max(200), ...hourAir }).strict(),
  /** The same of a way that is walked: a drawn line by its id, or any path, in the order it is walked. */
  'air.wayScent': z
    .object({
      way: z.union([
        z.object({ feature: id, reversed: z.boolean().optional() }).strict(),
        z.object({ path: z.array(position).min(2).max(1000) }).strict(),
      ]),
      pace: z.number().min(0.1).max(5).optional(),
      ...hourAir,
    })
    .strict(),
  /** When the air at a spot turns through a day: sun, wind up the slope, drainage. */
  'air.turns': z.object({ ...spot, date, windSpeed: z.number().min(0).max(40).optional(), cloud }).strict(),
  /** A stand under 16 winds and the calm at five parts of the day of a season. */
  'air.stand': z.object({ stand: id, season: seasonOf.optional() }).strict(),
  /** How each trail lies to each wind, and where new bedding would be checked from a trail. */
  'air.trails': z.object({ season }).strict(),
} as const;
