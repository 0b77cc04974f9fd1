/**
 * The bulk balance of a layer of cold air sliding down a slope under still, neutrally stratified air, after Manins
 * & Sawford, "A model of katabatic winds", J. Atmos. Sci. 36 (1979), in its steady form.
 *
 * Heat: the deficit carried through a metre of width is all that was lost uphill, H / (rho cp).
 * Momentum: the pull of the deficit down the slope balances drag and the slowing of the air drawn in from above,
 *   (g / theta) (H / (rho cp)) sin(slope) = (drag + entrainment) U^3.
 * Mass: air is drawn in at entrainment x U over every square metre.
 * On an even slope this gives a depth of 3/4 x entrainment x distance, whatever the cooling.
 */

const GRAVITY = 9.81;
/** Potential temperature of the air above, K. */
const THETA = 285;
/** Heat it takes to warm a cubic metre of air by one kelvin, J/(m3 K). */
export const AIR_HEAT = 1.23 * 1005;
/** Slope below which the layer is driven by its own surface rather than the ground: the least taken. */
const LEAST_SLOPE = 0.002;

/**
 * Air drawn in from above over the layer's speed: 0.05 sin(slope)^(2/3), the fit to the tank runs of Ellison &
 * Turner (1959) used for slope winds by Briggs (1979) and borne out by Horst & Doran (1986); value from memory.
 *
 * @param sine of the slope angle
 */
export const entrainment = (sine: number): number => 0.05 * Math.cbrt(sine * sine);

/**
 * Speed of the layer, m/s.
 *
 * @param heat lost uphill and carried through a metre of width, W/m
 * @param slope rise over run, at least 0; taken as 0.002 where less
 * @param drag of the ground: see `DRAG`
 */
export function layerSpeed(heat: number, slope: number, drag: number): number {
  const steep = Math.max(slope, LEAST_SLOPE);
  const sine = steep / Math.sqrt(1 + steep * steep);
  return Math.cbrt(((GRAVITY / THETA) * (heat / AIR_HEAT) * sine) / (drag + entrainment(sine)));
}

/** Volume drawn in from above per square metre and second, m/s. */
export function drawnIn(speed: number, slope: number): number {
  const steep = Math.max(slope, LEAST_SLOPE);
  return entrainment(steep / Math.sqrt(1 + steep * steep)) * speed;
}

/**
 * Drag coefficient of the ground by COVER code, 0 = unknown: our assumption. Grass about 0.01; brush and timber
 * hold the air back, so it backs up at a timber edge and thins where it comes out in the open.
 */
export const DRAG: readonly number[] = [0.015, 0.01, 0.03, 0.05, 0.06, 0.02, 0.005, 0.03];
