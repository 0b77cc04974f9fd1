/** Lengths, areas and shares as a person reads them. Everything inside is SI; this is the window's edge. */

export type Units = 'us' | 'metric';

const FOOT = 0.3048;
const YARD = 0.9144;
const MILE = 1609.344;
const ACRE = 4046.8564224;

/** Thousands apart by a comma, so that a reading is quick to take in. */
const whole = (value: number): string => Math.round(value).toLocaleString('en-US');

/** A distance over the ground: yards to a half mile, then miles; or metres, then kilometres. */
export function distance(metres: number, units: Units): string {
  if (units === 'metric') return metres < 1000 ? `${whole(metres)} m` : `${(metres / 1000).toFixed(1)} km`;
  return metres < MILE / 2 ? `${whole(metres / YARD)} yd` : `${(metres / MILE).toFixed(1)} mi`;
}

/** A height or depth: feet, or metres with one decimal. */
export function height(metres: number, units: Units): string {
  if (units === 'metric') return `${metres.toFixed(1)} m`;
  const feet = metres / FOOT;
  return feet < 10 ? `${feet.toFixed(1)} ft` : `${whole(feet)} ft`;
}

export function area(squareMetres: number, units: Units): string {
  const [value, unit] =
    units === 'metric' ? [squareMetres / 10_000, 'ha'] : [squareMetres / ACRE, acres(squareMetres)];
  return `${value < 10 ? value.toFixed(1) : whole(value)} ${unit}`;
}

const acres = (squareMetres: number): string =>
  (squareMetres / ACRE).toFixed(1) === '1.0' ? 'acre' : 'acres';

export function speed(metresPerSecond: number, units: Units): string {
  return units === 'metric'
    ? `${metresPerSecond.toFixed(1)} m/s`
    : `${(metresPerSecond * 2.23693629).toFixed(1)} mph`;
}

/** A share 0..1 in whole percent, never rounded to nothing or to everything. */
export function percent(share: number): string {
  if (share > 0 && share < 0.005) return 'under 1 %';
  if (share < 1 && share > 0.995) return 'over 99 %';
  return `${Math.round(share * 100)} %`;
}

/** Seconds as `about 20 s`, `about 3 min`. */
export function duration(seconds: number): string {
  if (seconds < 1.5) return 'a moment';
  if (seconds < 90) return `about ${seconds < 10 ? Math.round(seconds) : Math.round(seconds / 5) * 5} s`;
  return `about ${Math.round(seconds / 60)} min`;
}

type Measured = 'height' | 'distance';

const metresIn = (measured: Measured, units: Units): number =>
  units === 'metric' ? 1 : measured === 'height' ? FOOT : YARD;

/** Unit of a typed height (feet or metres) or distance (yards or metres). */
export const shownUnit = (measured: Measured, units: Units): string =>
  units === 'metric' ? 'm' : measured === 'height' ? 'ft' : 'yd';

/** Metres as the number a person types, and back. Three decimals keep a typed number as it was typed. */
export const toShown = (measured: Measured, metres: number, units: Units): number =>
  Math.round((metres / metresIn(measured, units)) * 1000) / 1000;
export const fromShown = (measured: Measured, shown: number, units: Units): number =>
  shown * metresIn(measured, units);
