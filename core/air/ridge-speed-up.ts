/**
 * Speed-up of sheared wind over the crest of a low ridge, as a share of the speed at the same height upwind: 2 h/L
 * (Jackson & Hunt, "Turbulent wind flow over a low hill", Quarterly J. Royal Meteorological Society 101, 1975), twice
 * what uniform inflow gives. It needs the shear of the wind upstream and is not part of `localWind`, whose adjustment
 * alone gives h/L.
 *
 * @param height of the ridge, m
 * @param halfLength from the crest to where the ridge is half as high, m
 * @throws Error for a ridge too steep for the theory (h/L over 0.5)
 */
export function ridgeSpeedUp(height: number, halfLength: number): number {
  const slope = height / halfLength;
  if (!(slope >= 0 && slope <= 0.5))
    throw new Error(`a ridge of h/L ${slope.toFixed(2)} is beyond linear theory, which ends at 0.5`);
  return 2 * slope;
}
