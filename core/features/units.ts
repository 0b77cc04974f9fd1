/**
 * The one place where SI turns into what a person reads and back. Factors are exact by definition: NIST SP 811
 * (2008), appendix B (international yard and pound agreement of 1959).
 */

export type Units = 'us' | 'metric';

export const FOOT = 0.3048;
export const YARD = 0.9144;
export const MILE = 1609.344;
/** International acre, m²: 43 560 square feet of 0.3048 m. */
export const ACRE = 4046.8564224;
/** Avoirdupois pound, kg. */
export const POUND = 0.45359237;
/** m/s in a mile an hour. */
export const MPH = 0.44704;
const HECTARE = 10_000;

/** Over the ground in yards (miles from half a mile up), or up and down in feet. */
export type LengthKind = 'distance' | 'height';

/** A length in metres as text: `120 yd`, `0.8 mi`, `3.3 ft`, `12 ft`; `120 m`, `1.3 km`. */
export function formatLength(metres: number, units: Units, kind: LengthKind = 'distance'): string {
  if (kind === 'height') {
    if (units === 'metric') return `${decimal(metres, 1)} m`;
    const feet = metres / FOOT;
    return Math.abs(feet) < 9.95 ? `${decimal(feet, 1)} ft` : `${whole(feet)} ft`;
  }
  if (units === 'metric') return metres < 1000 ? `${whole(metres)} m` : `${decimal(metres / 1000, 1)} km`;
  return metres < MILE / 2 ? `${whole(metres / YARD)} yd` : `${decimal(metres / MILE, 1)} mi`;
}

/** Less ground than this is told in feet or metres, m²: a tenth of an acre. */
const SMALL = 0.1 * ACRE;

/** An area in m² as text: `3.4 acres`, `328 acres`, `650 ft²`; `1.4 ha`, `60 m²`. */
export function formatArea(squareMetres: number, units: Units): string {
  if (squareMetres < SMALL)
    return units === 'metric' ? `${whole(squareMetres)} m²` : `${whole(squareMetres / FOOT ** 2)} ft²`;
  const value = squareMetres / (units === 'metric' ? HECTARE : ACRE);
  const text = value < 9.95 ? decimal(value, 1) : whole(value);
  if (units === 'metric') return `${text} ha`;
  return `${text} ${text === '1.0' ? 'acre' : 'acres'}`;
}

/** A speed in m/s as text: `4.5 mph`, `2.0 m/s`. */
export const formatSpeed = (metresPerSecond: number, units: Units): string =>
  units === 'metric' ? `${decimal(metresPerSecond, 1)} m/s` : `${decimal(metresPerSecond / MPH, 1)} mph`;

/** A mass in kg as text: `12 lb`, `1.4 lb`, `2.5 tons` (short, 2000 lb); `5.4 kg`, `2.3 t`. */
export function formatMass(kilograms: number, units: Units): string {
  const [value, one, many, big, name] =
    units === 'metric' ? [kilograms, 'kg', 'kg', 1000, 't'] : [kilograms / POUND, 'lb', 'lb', 2000, 'tons'];
  if (value >= big) return `${decimal(value / big, 1)} ${name}`;
  return `${value < 9.95 ? decimal(value, 1) : whole(value)} ${value === 1 ? one : many}`;
}

/** A share 0..1 in whole percent, never rounded to nothing or to everything. */
export function formatShare(share: number): string {
  if (share > 0 && share < 0.005) return 'under 1%';
  if (share < 1 && share >= 0.995) return 'over 99%';
  return `${Math.round(share * 100)}%`;
}

/** A number with thousands set apart. */
export const whole = (value: number): string => decimal(value, 0);

/** Fixed decimals, thousands set apart by a comma, never a minus before nothing. */
export function decimal(value: number, places: number): string {
  const [digits, fraction] = Math.abs(value).toFixed(places).split('.') as [string, string | undefined];
  const grouped = digits.replace(/\B(?=(\d{3})+$)/g, ',');
  const text = fraction === undefined ? grouped : `${grouped}.${fraction}`;
  return value < 0 && /[1-9]/.test(text) ? `-${text}` : text;
}

/** Numbers of a feature that are no lengths, as a person types them: words, and what one is in SI. */
export type FieldUnit = 'in' | 'ft²/acre' | 'lb/acre';
export const FIELD_UNITS: Record<FieldUnit, Record<Units, [words: string, factor: number]>> = {
  in: { us: ['in', FOOT / 12], metric: ['cm', 0.01] },
  // Basal area is m²/ha throughout.
  'ft²/acre': { us: ['ft²/acre', (FOOT ** 2 / ACRE) * HECTARE], metric: ['m²/ha', 1] },
  'lb/acre': { us: ['lb/acre', POUND / ACRE], metric: ['kg/ha', 1 / HECTARE] },
};

const metresIn = (kind: LengthKind, units: Units): number =>
  units === 'metric' ? 1 : kind === 'height' ? FOOT : YARD;

/** Unit of a length a person types. */
export const lengthUnit = (kind: LengthKind, units: Units): string =>
  units === 'metric' ? 'm' : kind === 'height' ? 'ft' : 'yd';

/** Metres as the number a person types, to three decimals so that a typed number comes back as it was typed. */
export const toTyped = (metres: number, units: Units, kind: LengthKind): number =>
  Math.round((metres / metresIn(kind, units)) * 1000) / 1000;

export const fromTyped = (typed: number, units: Units, kind: LengthKind): number =>
  typed * metresIn(kind, units);

const POINTS = ['north', 'northeast', 'east', 'southeast', 'south', 'southwest', 'west', 'northwest'];
const eighth = (bearing: number): number => ((Math.round(bearing / 45) % 8) + 8) % 8;

/** The nearest of the eight points of the compass to degrees clockwise from north, in a word. */
export const compassWord = (bearing: number): string => POINTS[eighth(bearing)]!;

/** The same in letters: N, NE, E. */
export const compassLetters = (bearing: number): string =>
  ['N', 'NE', 'E', 'SE', 'S', 'SW', 'W', 'NW'][eighth(bearing)]!;

/** Words as a sentence or a title begins. */
export const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
