/** Roughness of fields, m: low to high crops, 0.06 to 0.2 (Wieringa, J. Wind Engineering 41, 1992). */
const ROUGHNESS = 0.1;

/** Wind over open level ground at a height, m, over that at another: the logarithmic profile of neutral air. */
export const openProfile = (height: number, reference: number): number =>
  Math.log(height / ROUGHNESS + 1) / Math.log(reference / ROUGHNESS + 1);
