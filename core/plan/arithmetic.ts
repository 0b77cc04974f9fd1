/** The sums of a work list, each by itself so that it can be checked by hand. SI throughout. */

/**
 * Bulk seed that holds a mass of pure live seed: pure live share = purity × germination (USDA NRCS planting guides;
 * Association of Official Seed Analysts). Shares 0..1, masses kg.
 *
 * @returns null where a share is not above 0
 */
export function bulkSeed(pureLive: number, purity: number, germination: number): number | null {
  const share = purity * germination;
  return share > 0 && share <= 1 ? pureLive / share : null;
}

/**
 * Material that holds what is asked for: 100 lb of nitrogen are 217 lb of urea at 46% (grades as printed on the bag);
 * effective lime likewise over its effective calcium carbonate equivalent. Share 0..1, masses kg.
 *
 * @returns null where the share is not above 0
 */
export const materialFor = (asked: number, share: number): number | null =>
  share > 0 && share <= 1 ? asked / share : null;

/** Plants along a line: one at each end and one every `spacing` metres between, in each row. */
export const plantsAlong = (length: number, spacing: number, rows: number): number =>
  rows * (Math.floor(length / spacing + 1e-9) + 1);

/** Plants on ground, by the area each has: 8 by 8 ft is 680 an acre (43,560 ft² / 64 ft²). */
export const plantsOn = (area: number, spacing: number, rowSpacing: number): number =>
  Math.floor(area / (spacing * rowSpacing) + 1e-9);

/** Cross-section of a stem at breast height, m²: π/4 d². In foresters' units 0.005454 d², d in inches, ft². */
export const stemArea = (diameter: number): number => (Math.PI / 4) * diameter ** 2;

/**
 * Basal area of a stand from counts with a prism or angle gauge: every tree that is in stands for as much as the
 * gauge's factor, whatever its size (Bitterlich's point sampling; forest mensuration textbooks).
 *
 * @param factor basal area a tree stands for, in the unit of the answer
 */
export const basalAreaOf = (trees: number, points: number, factor: number): number =>
  (trees / points) * factor;

/**
 * Stems to take out of ground to bring its basal area down.
 *
 * @param now and @param left basal area, m²/ha; `area` m²; `diameter` m of the stems taken
 */
export const stemsToCut = (now: number, left: number, diameter: number, area: number): number =>
  Math.round((Math.max(0, now - left) / stemArea(diameter)) * (area / 10_000));

/**
 * Trees for a barricade: tops laid one behind the other along the line, in layers until the height is reached, and
 * some over for those that fall wrong.
 */
export function barricadeTrees(
  length: number,
  height: number,
  top: { cover: number; height: number },
  spare: number,
): number {
  const layers = Math.max(1, Math.ceil(height / top.height - 1e-9));
  return Math.ceil(Math.ceil(length / top.cover - 1e-9) * layers * (1 + spare) - 1e-9);
}

/** The next whole number of units something is sold in. */
export const roundUpTo = (amount: number, unit: number): number =>
  Math.max(0, Math.ceil(amount / unit - 1e-9)) * unit;
