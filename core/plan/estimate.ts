import type { Feature } from '../features/feature.ts';
import { areaOf, lengthOf } from '../features/measure.ts';
import {
  ACRE,
  decimal,
  FOOT,
  formatArea,
  formatLength,
  formatMass,
  formatShare,
  type Units,
  whole,
  YARD,
} from '../features/units.ts';
import { bulkSeed, roundUpTo } from './arithmetic.ts';
import type { RateOf } from './rates.ts';
import type { Measure, Quantity } from './types.ts';

/** What a job takes, before it is priced. */
export interface Estimate {
  quantities: Quantity[];
  /** Person hours, machine hours for a machine; null where not known. */
  hours: number | null;
  /** Dollars of what is bought; null where not known. */
  material: number | null;
  unknown: string[];
}

/** What the sums of a job are made with. */
export interface Desk {
  feature: Feature;
  rate: RateOf;
  units: Units;
  /** m and m² on the grid. */
  length: number;
  area: number;
  /** A number the feature states, else the rate. */
  stated(attribute: string, rate: string): number;
  quantity(label: string, value: number | null, measure: Measure, how: string, buy?: string | null): Quantity;
  /** A length in words, however short. */
  short(metres: number): string;
}

export function deskOf(feature: Feature, rate: RateOf, units: Units): Desk {
  const short = (metres: number): string => formatLength(metres, units, 'height');
  return {
    feature,
    rate,
    units,
    length: lengthOf(feature.geometry),
    area: areaOf(feature.geometry),
    short,
    stated(attribute, key) {
      const value = feature.attributes[attribute];
      return typeof value === 'number' && value > 0 ? value : rate(key);
    },
    quantity: (label, value, measure, how, buy = null) => ({
      label,
      value,
      measure,
      text: quantityInWords(value, measure, units),
      buy,
      how,
    }),
  };
}

export const quantityInWords = (value: number | null, measure: Measure, units: Units): string =>
  value === null ? 'not known' : saidIn(value, measure, units);

function saidIn(value: number, measure: Measure, units: Units): string {
  switch (measure) {
    case 'length':
      return formatLength(value, units);
    case 'height':
      return formatLength(value, units, 'height');
    case 'area':
      return formatArea(value, units);
    case 'mass':
      return formatMass(value, units);
    case 'volume':
      return units === 'metric' ? `${decimal(value, 1)} m³` : `${decimal(value / YARD ** 3, 1)} yd³`;
    case 'basal area':
      return units === 'metric'
        ? `${decimal(value, 1)} m²/ha`
        : `${whole((value / 10_000) * (ACRE / FOOT ** 2))} ft²/acre`;
    case 'share':
      return formatShare(value);
    case 'count':
      return whole(value);
  }
}

/** Pure live seed for ground, the bulk seed that holds it, and what is bought. */
export function seedOn(
  desk: Desk,
  area: number,
  rates: { seed: string; price: string },
): { quantities: Quantity[]; material: number | null } {
  const { rate, quantity, units } = desk;
  const pure = rate(rates.seed) * area;
  const [purity, germination] = [rate('seed.purity'), rate('seed.germination')];
  const bulk = bulkSeed(pure, purity, germination);
  const pound = units === 'metric' ? 1 : 0.45359237;
  const bought = bulk === null ? null : roundUpTo(bulk * (1 + rate('seed.spare')), pound);
  return {
    quantities: [
      quantity('Seed, pure live', pure, 'mass', onGround(rate(rates.seed), units)),
      quantity(
        'Seed from the bag',
        bulk,
        'mass',
        bulk === null
          ? 'purity and germination must be above nothing'
          : `pure live seed over ${formatShare(purity)} purity times ${formatShare(germination)} germination`,
        bought === null ? null : formatMass(bought, units),
      ),
    ],
    // Seed is priced by its pure live part.
    material: bought === null ? null : bought * purity * germination * rate(rates.price),
  };
}

const acreOr = (units: Units): number => (units === 'metric' ? 10_000 : ACRE);
const acreWords = (units: Units): string => (units === 'metric' ? 'a hectare' : 'an acre');
/** A mass for ground, kg/m², in words: `60 lb on an acre`. */
export const onGround = (massPerSquareMetre: number, units: Units): string =>
  `${formatMass(massPerSquareMetre * acreOr(units), units)} on ${acreWords(units)}`;
/** Hours for ground in words. */
export const hoursOn = (hoursPerSquareMetre: number, units: Units): string =>
  `${decimal(hoursPerSquareMetre * acreOr(units), 1)} h on ${acreWords(units)}`;
