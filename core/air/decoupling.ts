import { BUOYANCY } from './bulk.ts';

/**
 * Whether wind sweeps still cold air out of a hollow, after Bell & Thompson, "Stratified flow in valleys" (J. Fluid
 * Mechanics 96, 1980): in their tank and model runs air in a valley stayed below F = U / (N depth) of about 1.3 and
 * was swept out above. N from the deficit spread over the depth, so F = U / sqrt(g' depth).
 */
export const SWEPT_ABOVE = 1.3;

/**
 * @param wind across the hollow at its rim, m/s
 * @param deficit how much colder the air in it is, K
 * @param depth m
 * @returns infinite where nothing holds it
 */
export const valleyFroude = (wind: number, deficit: number, depth: number): number =>
  wind / Math.sqrt(BUOYANCY * Math.max(0, deficit) * Math.max(0, depth));
