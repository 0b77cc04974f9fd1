/**
 * Numbers of the bulk layer of cold air that slides under still, neutral air (Manins & Sawford, "A model of
 * katabatic winds", J. Atmos. Sci. 36, 1979):
 *
 * heat      deficit carried past = heat lost uphill / (rho cp)
 * momentum  (g / theta) deficit x depth x slope = (drag + entrainment) speed^2
 * mass      air is drawn in from above at entrainment x speed
 *
 * On an even slope these give a depth of 3/4 x entrainment x distance, whatever the cooling.
 */

/** Pull on air one kelvin colder than what lies above, m/s2 (at 285 K). */
export const BUOYANCY = 9.81 / 285;
/** Heat it takes to warm a cubic metre of air by one kelvin, J/(m3 K). */
export const AIR_HEAT = 1.23 * 1005;
/** Ground that has cooled radiates less: 4 sigma T^3 at 285 K, W/(m2 K). */
export const RADIATIVE_RETURN = 4 * 5.67e-8 * 285 ** 3;
/** Growth of the layer where it does not move, m/s: about 2 m an hour, our assumption. */
export const STILL_GROWTH = 5e-4;

/**
 * Air drawn in from above over the layer's speed: 0.05 sin(slope)^(2/3), the fit to the tank runs of Ellison &
 * Turner (1959) used for slope winds by Briggs (1979) and borne out by Horst & Doran (1986); value from memory.
 *
 * @param slope rise over run of the layer's top
 */
export function entrainment(slope: number): number {
  const sine = slope / Math.sqrt(1 + slope * slope);
  return 0.05 * Math.cbrt(sine * sine);
}

/**
 * Drag coefficient of the ground by COVER code, 0 = unknown: our assumption. Grass about 0.01; brush and timber
 * hold the air back, so it backs up at a timber edge and thins where it comes out in the open.
 */
export const DRAG: readonly number[] = [0.015, 0.01, 0.03, 0.05, 0.06, 0.02, 0.005, 0.03];
