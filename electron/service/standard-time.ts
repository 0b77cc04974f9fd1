/**
 * Standard time by longitude: a whole number of hours from UTC, 15 degrees an hour. Lines between clock zones wander,
 * so a clock may be an hour off, and another where summer time is kept.
 */
const zoneHours = (longitude: number): number => Math.round(longitude / 15);

export const zoneName = (longitude: number): string => {
  const hours = zoneHours(longitude);
  return hours === 0 ? 'UTC' : `UTC${hours < 0 ? '-' : '+'}${Math.abs(hours)}`;
};

/** Milliseconds since 1970-01-01T00Z of an hour of a day (YYYY-MM-DD) in standard time. */
export const timeOf = (date: string, hour: number, longitude: number): number =>
  Date.parse(`${date}T00:00:00Z`) + (hour - zoneHours(longitude)) * 3_600_000;

/** `06:41` of a moment, to the nearest minute. */
export const clockOf = (time: number, longitude: number): string =>
  new Date(Math.round(time / 60_000) * 60_000 + zoneHours(longitude) * 3_600_000).toISOString().slice(11, 16);
