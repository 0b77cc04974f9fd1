import { type Feature, numberOr } from '../features/feature.ts';
import type { Weights } from './assumptions.ts';

/** How a deer may get past a barricade without walking round it. */
export type BarricadeWay = 'over' | 'through' | 'under';

/** A barricade as it is laid where nothing else is stated: m, and the part of it that wood fills. Our assumption. */
export const BARRICADE = { height: 1.5, width: 2, density: 0.8 } as const;
/** How closely it is laid, in words, as the part of it that wood fills. Our assumption. */
const DENSITY: Record<string, number> = { loose: 0.5, thick: BARRICADE.density, tight: 0.95 };
/** Room under it that the weight for crawling is given for; below the least no deer crawls. Common practice, no source. */
const CRAWL = { usual: 0.5, least: 0.3 } as const;

/** The part of a barricade that wood fills, from the feature's word or number. */
export const densityOf = (value: unknown): number =>
  typeof value === 'string' ? (DENSITY[value] ?? BARRICADE.density) : numberOr(value, BARRICADE.density);

/**
 * What each way past a barricade costs, metres of easy ground; Infinity where there is none. Jumping or clambering over
 * grows with the square of its height and with its width, pushing through with its width and with wood over open space,
 * and crawling under falls with the square of the room there. The forms are our assumption, as are the weights.
 */
export function barricadeWays(
  { attributes }: Pick<Feature, 'attributes'>,
  w: Weights,
): Record<BarricadeWay, number> {
  const positive = (value: unknown, otherwise: number): number => Math.max(0, numberOr(value, otherwise));
  const height = positive(attributes.height, BARRICADE.height);
  const width = positive(attributes.width, BARRICADE.width) / BARRICADE.width;
  const density = Math.min(1, Math.max(0, densityOf(attributes.density)));
  const room = positive(attributes.clearance, 0);
  const packed = (part: number): number => part / (1 - part);
  return {
    over: w.barricade * (height / BARRICADE.height) ** 2 * width,
    through:
      density === 1
        ? Number.POSITIVE_INFINITY
        : (w.barricadeThrough * width * packed(density)) / packed(BARRICADE.density),
    under: room < CRAWL.least ? Number.POSITIVE_INFINITY : w.barricadeUnder * (CRAWL.usual / room) ** 2,
  };
}
