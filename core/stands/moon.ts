const RADIANS = Math.PI / 180;
const sin = (degrees: number): number => Math.sin(degrees * RADIANS);
const cos = (degrees: number): number => Math.cos(degrees * RADIANS);

export interface Moon {
  /** Share of the disc that is lit, 0..1. */
  lit: number;
  waxing: boolean;
  /** New moon, waxing crescent … */
  name: string;
}

/**
 * How much of the moon is lit: Meeus, "Astronomical Algorithms" (1998), chapter 48, the phase angle from the mean
 * elongation and anomalies with its largest terms; good to about a hundredth of the disc. A neutral fact: nothing here
 * rests on it.
 *
 * @param time milliseconds since 1970-01-01T00Z
 */
export function moonAt(time: number): Moon {
  const t = (time / 86_400_000 + 2440587.5 - 2451545) / 36525;
  const elongation = 297.8501921 + t * (445267.1114034 + t * (-0.0018819 + t / 545868));
  const sun = 357.5291092 + t * (35999.0502909 - t * 0.0001536);
  const moon = 134.9633964 + t * (477198.8675055 + t * (0.0087414 + t / 69699));
  const angle =
    180 -
    elongation -
    6.289 * sin(moon) +
    2.1 * sin(sun) -
    1.274 * sin(2 * elongation - moon) -
    0.658 * sin(2 * elongation) -
    0.214 * sin(2 * moon) -
    0.11 * sin(elongation);
  const lit = (1 + cos(angle)) / 2;
  // The angle falls from 180 at new moon through 0 at full moon: the sine is positive while the moon waxes.
  const waxing = sin(angle) > 0;
  return { lit, waxing, name: nameOf(lit, waxing) };
}

/** Common names; a disc lit by less than 2% or more than 98% counts as new or full, within 8% of a half as a quarter. */
function nameOf(lit: number, waxing: boolean): string {
  if (lit < 0.02) return 'new moon';
  if (lit > 0.98) return 'full moon';
  if (Math.abs(lit - 0.5) < 0.08) return waxing ? 'first quarter' : 'last quarter';
  return `${waxing ? 'waxing' : 'waning'} ${lit < 0.5 ? 'crescent' : 'gibbous'}`;
}
