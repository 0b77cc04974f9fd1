import type { WindRecord } from './types.ts';

/** Hours of a wind record by where the wind blows from. */
export interface WindRose {
  /** Hours in each sector of 22.5 degrees, 0 centred on north, clockwise. */
  counts: Int32Array;
  /** Mean speed in each sector, m/s; NaN where it has no hour. */
  speeds: Float64Array;
  /** Hours without wind. */
  calms: number;
  /** Hours of wind with no steady direction. */
  variable: number;
  /** All hours counted: sectors, calms and variable. */
  total: number;
}

/** The sector 0..15 of a direction in degrees; sectors start 11.25 degrees counter-clockwise of their middle. */
export const sectorOf = (degrees: number): number =>
  Math.floor(((((degrees + 11.25) % 360) + 360) % 360) / 22.5);

/**
 * Counts by sector, calms and variable wind kept apart from the sectors.
 *
 * @param use which records to count by place; all when left out
 */
export function windRose(record: WindRecord, use: (place: number) => boolean = () => true): WindRose {
  const counts = new Int32Array(16);
  const sums = new Float64Array(16);
  let calms = 0;
  let variable = 0;
  let total = 0;
  for (let i = 0; i < record.hours.length; i++) {
    const speed = record.speed[i]!;
    if (Number.isNaN(speed) || !use(i)) continue;
    total++;
    if (speed === 0) calms++;
    else if (Number.isNaN(record.direction[i]!)) variable++;
    else {
      const sector = sectorOf(record.direction[i]!);
      counts[sector]!++;
      sums[sector]! += speed;
    }
  }
  const speeds = Float64Array.from(sums, (sum, k) => (counts[k]! > 0 ? sum / counts[k]! : Number.NaN));
  return { counts, speeds, calms, variable, total };
}
