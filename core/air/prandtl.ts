import { BUOYANCY } from './bulk.ts';

/** Wind and coldness at heights over a cooled slope. */
export interface SlopeProfile {
  /** Along the slope, downhill positive, m/s. */
  speed(height: number): number;
  /** Colder than the still air at the same height, K. */
  deficit(height: number): number;
  /** Height of the fastest wind, m. */
  jetHeight: number;
}

/**
 * Prandtl's slope wind (Führer durch die Strömungslehre, 1942): steady laminar-like balance over an even cooled slope
 * in stably stratified air with constant exchange,
 *
 *   deficit = D exp(-n/l) cos(n/l),  speed = D g/theta sqrt(Kh/Km)/N exp(-n/l) sin(n/l),
 *   l = (4 Kh Km / (N^2 sin^2(slope)))^(1/4)
 *
 * @param surfaceDeficit how much colder the ground is than the air, K
 * @param slope degrees, above 0
 * @param lapse rise of potential temperature of the still air with height, K/m, above 0
 * @param exchange of momentum and of heat, m2/s
 */
export function slopeProfile(
  surfaceDeficit: number,
  slope: number,
  lapse: number,
  exchange: { momentum: number; heat: number },
): SlopeProfile {
  const sine = Math.sin((slope * Math.PI) / 180);
  const buoyancy = Math.sqrt(BUOYANCY * lapse);
  const scale = ((4 * exchange.heat * exchange.momentum) / (buoyancy * sine) ** 2) ** 0.25;
  const strength = (surfaceDeficit * BUOYANCY * Math.sqrt(exchange.heat / exchange.momentum)) / buoyancy;
  return {
    speed: (height) => strength * Math.exp(-height / scale) * Math.sin(height / scale),
    deficit: (height) => surfaceDeficit * Math.exp(-height / scale) * Math.cos(height / scale),
    jetHeight: (Math.PI / 4) * scale,
  };
}
