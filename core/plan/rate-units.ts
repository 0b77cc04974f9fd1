import { ACRE, FIELD_UNITS, FOOT, POUND, type Units, YARD } from '../features/units.ts';
import type { RateUnit } from './types.ts';

/** Short ton of 2000 lb, kg. */
export const TON = 2000 * POUND;
const HECTARE = 10_000;

/** How a rate is typed: words, and what one is in SI (basal area in m²/ha, time in hours, money in dollars). */
const TYPED: Record<RateUnit, Record<Units, [words: string, factor: number]>> = {
  ft: { us: ['ft', FOOT], metric: ['m', 1] },
  ...FIELD_UNITS,
  'h/acre': { us: ['h/acre', 1 / ACRE], metric: ['h/ha', 1 / HECTARE] },
  lb: { us: ['lb', POUND], metric: ['kg', 1] },
  'ton/yd³': { us: ['ton/yd³', TON / YARD ** 3], metric: ['t/m³', 1000] },
  '$/lb': { us: ['$/lb', 1 / POUND], metric: ['$/kg', 1] },
  '$/ton': { us: ['$/ton', 1 / TON], metric: ['$/t', 1 / 1000] },
  $: { us: ['$', 1], metric: ['$', 1] },
  '$/h': { us: ['$/h', 1], metric: ['$/h', 1] },
  h: { us: ['h', 1], metric: ['h', 1] },
  '%': { us: ['%', 0.01], metric: ['%', 0.01] },
  people: { us: ['people', 1], metric: ['people', 1] },
  days: { us: ['days', 1], metric: ['days', 1] },
  count: { us: ['', 1], metric: ['', 1] },
};

export const typedUnit = (unit: RateUnit, units: Units): [words: string, factor: number] =>
  TYPED[unit][units];

/** SI of a number typed in US units: how the table of rates is written. */
export const fromUs = (typed: number, unit: RateUnit): number => typed * TYPED[unit].us[1];
