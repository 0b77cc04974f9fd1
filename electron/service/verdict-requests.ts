import { z } from 'zod';
import { id } from './shapes.ts';
import { tried } from './stands-requests.ts';

/** When a stand is hunted, how it compares, where one should go, and what happened. Lengths in m, speeds in m/s. */

const date = z.iso.date();

export const verdictRequests = {
  /** What the season makes of one stand; on a date, what visits and rest have left of it. */
  'stands.verdict': z.object({ ...tried, date: date.nullable().default(null) }).strict(),
  /** Which stand in which wind at which part of the day, by date window. */
  'stands.sheet': z.object({}).strict(),
  /** The season's days by their hours, from a year on: which can be hunted at one stand, or at any (null). */
  'stands.hours': z.object({ stand: id.nullable(), year: z.number().int().min(1970).max(2100) }).strict(),
  /** Where to sit on a day with a typed-in wind: degrees from true north it comes from, m/s. */
  'stands.forecast': z
    .object({
      date,
      windFrom: z.number().min(0).max(360),
      windSpeed: z.number().min(0).max(40),
      hunters: z.number().int().min(1).max(8).default(1),
    })
    .strict(),
} as const;
