import { type AttributeValue, type Feature, numberOr } from '../features/feature.ts';
import { BARRICADE, densityOf } from './barricade-ways.ts';

/** When travel is computed for. */
export interface Moment {
  /** Day of the year as MM-DD, or null for a day out of every season. */
  date: string | null;
  /** Years from now; 0 is today. */
  year: number;
}

/** A barricade of felled tops sinks and thins year by year; gone when it no longer stops a deer. */
const ROT_YEARS = 5;
const LEAST_HEIGHT = 0.4;
/** Screening of a cut or planting by years since, as shoots and briars close it. Our assumption. */
const GROWTH = [0.1, 0.45, 0.7, 0.85, 0.85, 0.9];
/** Standing corn hides a deer. Our assumption. */
const STANDING = 0.9;

/**
 * The features as they stand at a moment. A feature with `from` and `to` (MM-DD) is there only in that season (a
 * span lowered for the season, a food source in its weeks). Existing barricades rot: height and density fall to nothing over
 * `lasts` years (5 where not stated). Cuts and screens thicken with the years since (`age` years at year 0). Crops
 * stand from `standingFrom` to `standingTo`. A creek runs high from `highFrom` to `highTo` with `highDepth`. Food
 * with stock in it (`stockFrom` to `stockTo`) is left out. Attributes that are missing change nothing.
 */
export function featuresAt(features: readonly Feature[], { date, year }: Moment): Feature[] {
  return features.flatMap((feature) => {
    const { attributes, kind } = feature;
    if (!inSeason(date, attributes.from, attributes.to, true)) return [];
    const changed = (more: Record<string, AttributeValue>): Feature[] => [
      { ...feature, attributes: { ...attributes, ...more } },
    ];
    if (kind === 'barricade' && year > 0) {
      const sound = Math.max(0, 1 - year / numberOr(attributes.lasts, ROT_YEARS));
      const height = sound * numberOr(attributes.height, BARRICADE.height);
      return height < LEAST_HEIGHT ? [] : changed({ height, density: sound * densityOf(attributes.density) });
    }
    if (kind === 'cut' || kind === 'screen') {
      const age = Math.round(numberOr(attributes.age, 0) + year);
      return changed({ screening: GROWTH[Math.min(age, GROWTH.length - 1)]! });
    }
    if (kind === 'crop' && inSeason(date, attributes.standingFrom, attributes.standingTo, false))
      return changed({ screening: STANDING });
    if (kind === 'creek' && inSeason(date, attributes.highFrom, attributes.highTo, false))
      return changed({ depth: numberOr(attributes.highDepth, 2 * numberOr(attributes.depth, 0.3)) });
    if (kind === 'food' && inSeason(date, attributes.stockFrom, attributes.stockTo, false)) return [];
    return [feature];
  });
}

/** Whether a day lies in a season that may run over New Year; `otherwise` where no season or no day is given. */
export function inSeason(date: string | null, from: unknown, to: unknown, otherwise: boolean): boolean {
  if (date === null || !isDay(from) || !isDay(to)) return otherwise;
  return from <= to ? date >= from && date <= to : date >= from || date <= to;
}

const isDay = (value: unknown): value is string => typeof value === 'string' && /^\d\d-\d\d$/.test(value);
